import {
  Color,
  DoubleSide,
  FrontSide,
  LineBasicMaterial,
  type Material,
  MeshStandardMaterial,
  type MeshStandardMaterialParameters,
  type Plane,
  ShaderMaterial,
  type WebGLProgramParametersWithUniforms,
} from 'three';
import type { Verdict } from '../../../checks/finding.ts';
import { TINT } from '../../../scene/palette.ts';

/*
 * Materials that can be read in black and white. A verdict is a tint and a mark: the mark is drawn in screen space,
 * so that it is as wide and as far apart on a near part as on a far one. Solid for fits, slashes for watch, crosses
 * for act, upright lines for unsettled.
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

/** How far the parts stand apart, 0 to 1: one value that every material of the metal reads. */
export interface Share {
  value: number;
}

/** Corners of metal carry how far they move when all is pulled apart. */
const APART = { head: 'attribute vec3 aApart; uniform float uShare;', move: 'transformed += aApart * uShare;' };

function patched<M extends Material>(
  material: M,
  key: string,
  uniforms: Record<string, { value: unknown }>,
  patch: Patch,
): M {
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
 * Plain metal; corners say how far they step back (`aBack`, 0 to 1). In a view that cuts parts open their insides are
 * drawn, as cut metal; elsewhere they are not, or they would glint through at the edges of thin sheet.
 */
export function metalMaterial(
  tones: { metal: string; paper: string; cut: string },
  open: boolean,
  share: Share,
  clip: Plane[],
): MeshStandardMaterial {
  const uniforms = { uPaper: { value: new Color(tones.paper) }, uCut: { value: new Color(tones.cut) }, uShare: share };
  const material = new MeshStandardMaterial({
    ...MATT,
    color: tones.metal,
    side: open ? DoubleSide : FrontSide,
    clippingPlanes: clip,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 6,
  });
  return patched(material, open ? 'cut metal' : 'metal', uniforms, {
    vertexHead: `attribute float aBack; varying float vBack; ${APART.head}`,
    vertex: `vBack = aBack; ${APART.move}`,
    fragmentHead: 'varying float vBack; uniform vec3 uPaper; uniform vec3 uCut;',
    fragment: 'diffuseColor.rgb = mix(diffuseColor.rgb, uPaper, vBack * 0.45);',
    last: !open
      ? ''
      : 'if (!gl_FrontFacing) gl_FragColor = vec4(linearToOutputTexel(vec4(mix(uCut, uPaper, vBack * 0.6), 1.0)).rgb, 1.0);',
  });
}

/** The crisp edges of metal, each in its own tone. */
export function edgeMaterial(share: Share, clip: Plane[]): LineBasicMaterial {
  return patched(
    new LineBasicMaterial({ vertexColors: true, clippingPlanes: clip }),
    'edge',
    { uShare: share },
    { vertexHead: APART.head, vertex: APART.move },
  );
}

/** The skin: seen through. */
export function skinMaterial(metal: string, share: Share, clip: Plane[]): MeshStandardMaterial {
  const material = new MeshStandardMaterial({
    color: metal,
    transparent: true,
    opacity: 0.16,
    depthWrite: false,
    side: DoubleSide,
    roughness: 0.6,
    clippingPlanes: clip,
  });
  return patched(material, 'skin', { uShare: share }, { vertexHead: APART.head, vertex: APART.move });
}

export function skinEdgeMaterial(edge: string, share: Share, clip: Plane[]): LineBasicMaterial {
  return patched(
    new LineBasicMaterial({ color: edge, transparent: true, opacity: 0.35, depthWrite: false, clippingPlanes: clip }),
    'edge',
    { uShare: share },
    { vertexHead: APART.head, vertex: APART.move },
  );
}

/** Faces that carry a verdict: corners have a tone, a mark number, and the stretch along x that counts. */
export function faceMaterial(metal: string, share: Share, clip: Plane[]): MeshStandardMaterial {
  return patched(
    new MeshStandardMaterial({
      ...MATT,
      color: metal,
      clippingPlanes: clip,
      polygonOffset: true,
      polygonOffsetFactor: 0.5,
      polygonOffsetUnits: 2,
    }),
    'face',
    { uScale: { value: 1 }, uShare: share },
    {
      vertexHead: `attribute vec3 aTone; attribute float aMark; attribute vec2 aStretch; varying vec3 vTone; varying float vMark; varying vec3 vStretch; ${APART.head}`,
      vertex: `vTone = aTone; vMark = aMark; vStretch = vec3(aStretch, transformed.x); ${APART.move}`,
      fragmentHead: `varying vec3 vTone; varying float vMark; varying vec3 vStretch; uniform float uScale;\n${STROKES}`,
      fragment: /* glsl */ `
      if (vStretch.z < vStretch.x || vStretch.z > vStretch.y) discard;
      float laid = max(markAt(floor(vMark + 0.5), gl_FragCoord.xy / uScale), tintAt(vMark));
      diffuseColor.rgb = mix(diffuseColor.rgb, vTone, laid);
    `,
    },
  );
}

/** Gaps. Daylight lets the light through between its strokes; interference does not. */
export function gapMaterial(kind: 'daylight' | 'interference', paper: string, clip: Plane[]): MeshStandardMaterial {
  const clear = kind === 'daylight';
  const material = new MeshStandardMaterial({
    ...MATT,
    color: paper,
    transparent: clear,
    depthWrite: !clear,
    side: DoubleSide,
    clippingPlanes: clip,
    polygonOffset: true,
    polygonOffsetFactor: 0,
    polygonOffsetUnits: -2,
  });
  return patched(
    material,
    kind,
    { uScale: { value: 1 } },
    {
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
    },
  );
}

/** What a cut face is filled with, by number: four hatches of metal, then what two parts share, then daylight. */
export const FILL = { shared: 4, daylight: 5 } as const;

/**
 * Cut faces, unlit. Metal is paper hatched in ink at 45°, one way or the other, close or wide; what two parts share
 * is crossed in the tone of its corners. Where a sheet is too thin on the screen to be hatched it is drawn nearly
 * solid, as on paper.
 */
export function capMaterial(tones: { ink: string; paper: string }): ShaderMaterial {
  const uniforms = {
    uScale: { value: 1 },
    uZoom: { value: 1 },
    uInk: { value: new Color(tones.ink) },
    uPaper: { value: new Color(tones.paper) },
  };
  const material = new ShaderMaterial({
    uniforms,
    side: DoubleSide,
    transparent: true,
    polygonOffset: true,
    polygonOffsetFactor: -1,
    polygonOffsetUnits: -4,
    vertexShader: /* glsl */ `
      attribute vec3 aTone; attribute float aFill; varying vec3 vTone; varying float vFill;
      void main() {
        vTone = aTone; vFill = aFill;
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
      }`,
    fragmentShader: /* glsl */ `
      varying vec3 vTone; varying float vFill; uniform float uScale; uniform float uZoom; uniform vec3 uInk; uniform vec3 uPaper;
      ${STROKES}
      void main() {
        vec2 p = gl_FragCoord.xy / uScale;
        float fill = floor(vFill + 0.5);
        float up = (p.x - p.y) * 0.70711;
        float down = (p.x + p.y) * 0.70711;
        vec4 c;
        if (fill < 3.5) {
          float way = mod(fill, 2.0) < 0.5 ? up : down;
          float stroke = strokeAt(way, fill < 1.5 ? 6.5 : 3.6, fill < 1.5 ? 1.4 : 1.1);
          float solid = 1.0 - smoothstep(5.0, 10.0, uZoom);
          c = vec4(mix(uPaper, uInk, mix(stroke * 0.85, fill < 0.5 ? 0.95 : fill < 1.5 ? 0.6 : 0.4, solid)), 1.0);
        } else if (fill < 4.5) {
          float stroke = max(strokeAt(up, 6.0, 1.7), strokeAt(down, 6.0, 1.7));
          c = vec4(mix(mix(uPaper, vTone, 0.22), vTone, stroke), 0.94);
        } else {
          c = vec4(vTone, 0.16);
        }
        gl_FragColor = c;
        #include <colorspace_fragment>
      }`,
  });
  material.userData.uniforms = uniforms;
  return material;
}

/** Screen pixels to a CSS pixel, for marks that keep their size. */
export function setScale(material: Material, ratio: number): void {
  const uniforms = material.userData.uniforms as Record<string, { value: unknown }> | undefined;
  if (uniforms?.uScale) uniforms.uScale.value = ratio;
}

/** Screen pixels to a millimetre, for what is drawn otherwise from afar. */
export function setZoom(material: Material, zoom: number): void {
  const uniforms = material.userData.uniforms as Record<string, { value: unknown }> | undefined;
  if (uniforms?.uZoom) uniforms.uZoom.value = zoom;
}
