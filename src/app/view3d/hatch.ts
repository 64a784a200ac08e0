import { Color, DoubleSide, FrontSide, type Material, MeshStandardMaterial, type MeshStandardMaterialParameters, type WebGLProgramParametersWithUniforms } from 'three';
import type { Verdict } from '../../checks/finding.ts';
import { TINT } from '../../scene/palette.ts';

/*
 * Materials that can be read in black and white. A verdict is a tint and a mark: the mark is drawn in screen space, so that
 * it is as wide and as far apart on a near part as on a far one. Solid for fits, slashes for watch, crosses for act, upright
 * lines for unsettled.
 */

/** The number a corner carries for its verdict. */
export const MARK_NUMBER: Readonly<Record<Verdict, number>> = { fits: 0, watch: 1, act: 2, unsettled: 3 };

const STROKES = /* glsl */ `
  float strokeAt(float along, float every, float wide) {
    float d = abs(mod(along, every) - 0.5 * every);
    return 1.0 - smoothstep(0.5 * wide - 0.5, 0.5 * wide + 0.5, d);
  }
  float markAt(float mark, vec2 pixel) {
    float up = strokeAt((pixel.x - pixel.y) * 0.70711, 6.0, 2.0);
    float down = strokeAt((pixel.x + pixel.y) * 0.70711, 6.0, 1.6);
    if (mark < 0.5) return 1.0;
    if (mark < 1.5) return up;
    if (mark < 2.5) return max(strokeAt((pixel.x - pixel.y) * 0.70711, 6.0, 1.6), down);
    return strokeAt(pixel.x, 4.0, 1.2);
  }
  float tintAt(float mark) {
    return mark < 0.5 ? ${TINT.fits.toFixed(2)} : mark < 1.5 ? ${TINT.watch.toFixed(2)} : mark < 2.5 ? ${TINT.act.toFixed(2)} : ${TINT.unsettled.toFixed(2)};
  }
`;

interface Patch {
  readonly vertex?: string;
  readonly vertexHead?: string;
  readonly fragmentHead?: string;
  readonly fragment?: string;
  readonly last?: string;
}

function patched(material: MeshStandardMaterial, key: string, uniforms: Record<string, { value: unknown }>, patch: Patch): MeshStandardMaterial {
  material.onBeforeCompile = (shader: WebGLProgramParametersWithUniforms) => {
    Object.assign(shader.uniforms, uniforms);
    shader.vertexShader = shader.vertexShader
      .replace('#include <common>', `#include <common>\n${patch.vertexHead ?? ''}`)
      .replace('#include <begin_vertex>', `#include <begin_vertex>\n${patch.vertex ?? ''}`);
    shader.fragmentShader = shader.fragmentShader
      .replace('#include <common>', `#include <common>\n${patch.fragmentHead ?? ''}`)
      .replace('#include <color_fragment>', `#include <color_fragment>\n${patch.fragment ?? ''}`)
      .replace('#include <dithering_fragment>', `#include <dithering_fragment>\n${patch.last ?? ''}`);
  };
  material.customProgramCacheKey = () => key;
  material.userData.uniforms = uniforms;
  return material;
}

const MATT: MeshStandardMaterialParameters = { roughness: 0.92, metalness: 0 };

/**
 * Plain metal; corners say how far they step back (`aBack`, 0 to 1). In a view that cuts parts open their insides are drawn,
 * as cut metal; elsewhere they are not, or they would glint through at the edges of thin sheet.
 */
export function metalMaterial(metal: string, paper: string, cut: string, open: boolean): MeshStandardMaterial {
  const uniforms = { uPaper: { value: new Color(paper) }, uCut: { value: new Color(cut) } };
  return patched(new MeshStandardMaterial({ ...MATT, color: metal, side: open ? DoubleSide : FrontSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 6 }), open ? 'cut metal' : 'metal', uniforms, {
    vertexHead: 'attribute float aBack; varying float vBack;',
    vertex: 'vBack = aBack;',
    fragmentHead: 'varying float vBack; uniform vec3 uPaper; uniform vec3 uCut;',
    fragment: 'diffuseColor.rgb = mix(diffuseColor.rgb, uPaper, vBack * 0.45);',
    last: !open ? '' : 'if (!gl_FrontFacing) gl_FragColor = vec4(linearToOutputTexel(vec4(mix(uCut, uPaper, vBack * 0.6), 1.0)).rgb, 1.0);',
  });
}

/** Faces that carry a verdict: corners have a tone, a mark number, and the stretch along x that counts. */
export function faceMaterial(metal: string): MeshStandardMaterial {
  return patched(new MeshStandardMaterial({ ...MATT, color: metal, polygonOffset: true, polygonOffsetFactor: 0.5, polygonOffsetUnits: 2 }), 'face', { uScale: { value: 1 } }, {
    vertexHead: 'attribute vec3 aTone; attribute float aMark; attribute vec2 aStretch; varying vec3 vTone; varying float vMark; varying vec3 vStretch;',
    vertex: 'vTone = aTone; vMark = aMark; vStretch = vec3(aStretch, transformed.x);',
    fragmentHead: `varying vec3 vTone; varying float vMark; varying vec3 vStretch; uniform float uScale;\n${STROKES}`,
    fragment: /* glsl */ `
      if (vStretch.z < vStretch.x || vStretch.z > vStretch.y) discard;
      float laid = max(markAt(floor(vMark + 0.5), gl_FragCoord.xy / uScale), tintAt(vMark));
      diffuseColor.rgb = mix(diffuseColor.rgb, vTone, laid);
    `,
  });
}

/** Gaps. Daylight lets the light through between its strokes; interference does not. */
export function gapMaterial(kind: 'daylight' | 'interference', paper: string): MeshStandardMaterial {
  const clear = kind === 'daylight';
  const material = new MeshStandardMaterial({ ...MATT, color: paper, transparent: clear, depthWrite: !clear, side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 0, polygonOffsetUnits: -2 });
  return patched(material, kind, { uScale: { value: 1 } }, {
    vertexHead: 'attribute vec3 aTone; attribute float aMark; varying vec3 vTone; varying float vMark;',
    vertex: 'vTone = aTone; vMark = aMark;',
    fragmentHead: `varying vec3 vTone; varying float vMark; uniform float uScale;\n${STROKES}`,
    fragment: clear
      ? /* glsl */ `
      float stroke = vMark < 0.5 ? 0.0 : markAt(floor(vMark + 0.5), gl_FragCoord.xy / uScale);
      diffuseColor.rgb = vTone;
      diffuseColor.a = mix(0.34, 0.92, stroke);
    `
      : /* glsl */ `
      float stroke = markAt(2.0, gl_FragCoord.xy / uScale);
      diffuseColor.rgb = mix(vTone, diffuseColor.rgb, stroke * 0.8);
    `,
  });
}

/** Screen pixels to a CSS pixel, for marks that keep their size. */
export function setScale(material: Material, ratio: number): void {
  const uniforms = material.userData.uniforms as Record<string, { value: unknown }> | undefined;
  if (uniforms?.uScale) uniforms.uScale.value = ratio;
}
