import { useEffect, useMemo } from 'react';
import {
  Color,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  type Plane,
  PlaneGeometry,
  ShaderMaterial,
} from 'three';
import type { HoleState } from '../../drilling/hole.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { SceneHole } from '../../scene/shown.ts';

const DOUBT = 4;
const STATE: Readonly<Record<HoleState, number>> = {
  now: 0,
  'not yet': 1,
  'not asked': 1,
  'in doubt': DOUBT,
  never: 2,
  done: 3,
};
/** Least radius of a hole's mark on the screen, CSS px. */
export const LEAST_MARK = 7;

/** What matters more lies over what matters less where marks crowd. */
const weight = (h: SceneHole): number =>
  h.state === 'never' ? 3 : h.doubt ? 2 : h.verdict === 'watch' || h.verdict === 'unsettled' ? 1 : 0;

/** Every hole as one mark: open circle, circle with a bar, with two where it is in doubt, crossed circle, filled when done; a heavy ring where there is little to spare. They face the viewer and never shrink to nothing. */
export function HoleMarks({
  holes: all,
  station,
  light,
  pixels,
  clip,
}: {
  holes: readonly SceneHole[];
  station: string | null;
  light: Light;
  pixels: number;
  clip: Plane[];
}) {
  const geometry = useMemo(() => {
    const plane = new PlaneGeometry(2, 2);
    const made = new InstancedBufferGeometry();
    made.index = plane.index;
    made.setAttribute('position', plane.getAttribute('position'));
    const tones = PALETTE[light];
    const holes = [...all].sort((a, b) => weight(a) - weight(b));
    const places = holes.flatMap((h) => [...h.at]);
    const kinds = holes.flatMap((h) => [
      h.radius,
      h.doubt ? DOUBT : STATE[h.state],
      h.verdict === 'watch' || h.verdict === 'unsettled' ? 1 : 0,
    ]);
    const colours = holes.flatMap((h) => {
      const tone = new Color(
        h.state === 'never' || h.doubt
          ? tones.act
          : h.verdict === 'watch' || h.verdict === 'unsettled'
            ? tones[h.verdict]
            : tones.ink,
      );
      return [
        tone.r,
        tone.g,
        tone.b,
        station === null || h.station === station || h.state === 'never' || h.doubt ? 1 : 0.4,
      ];
    });
    made.setAttribute('aAt', new InstancedBufferAttribute(Float32Array.from(places), 3));
    made.setAttribute('aKind', new InstancedBufferAttribute(Float32Array.from(kinds), 3));
    made.setAttribute('aTone', new InstancedBufferAttribute(Float32Array.from(colours), 4));
    made.instanceCount = holes.length;
    return made;
  }, [all, station, light]);
  const material = useMemo(
    () =>
      new ShaderMaterial({
        transparent: true,
        depthTest: false,
        depthWrite: false,
        clipping: true,
        clippingPlanes: clip,
        uniforms: {
          uPixel: { value: pixels },
          uPaper: { value: new Color(PALETTE[light].paper) },
          uLeast: { value: LEAST_MARK },
        },
        vertexShader: /* glsl */ `
          attribute vec3 aAt; attribute vec3 aKind; attribute vec4 aTone;
          uniform float uLeast;
          #include <clipping_planes_pars_vertex>
          varying vec2 vAt; varying float vState; varying float vHeavy; varying vec4 vTone; varying float vSize;
          void main() {
            vec4 centre = modelViewMatrix * vec4(aAt, 1.0);
            vec4 mvPosition = centre;
            #include <clipping_planes_vertex>
            // An orthographic camera: one mm is as many px everywhere; uPixel is half the canvas height in px.
            float perMm = projectionMatrix[1][1];
            float size = max(aKind.x * 1.15, uLeast / max(perMm * HALF, 1e-6)) + 2.0 / max(perMm * HALF, 1e-6);
            vSize = size * perMm * HALF;
            vAt = position.xy * vSize;
            vState = aKind.y; vHeavy = aKind.z; vTone = aTone;
            centre.xy += position.xy * size;
            gl_Position = projectionMatrix * centre;
          }`
          .replaceAll('HALF', 'uPixel')
          .replace('uniform float uLeast;', 'uniform float uLeast; uniform float uPixel;'),
        fragmentShader: /* glsl */ `
          uniform vec3 uPaper;
          #include <clipping_planes_pars_fragment>
          varying vec2 vAt; varying float vState; varying float vHeavy; varying vec4 vTone; varying float vSize;
          float line(float d, float w) { return 1.0 - smoothstep(w - 0.6, w + 0.6, abs(d)); }
          void main() {
            #include <clipping_planes_fragment>
            float r = length(vAt);
            float ring = vSize - 2.0;
            float ink = line(r - ring, 0.9 + 0.9 * vHeavy);
            if (vState > 0.5 && vState < 1.5 && r < ring) ink = max(ink, line(vAt.y, 0.9));
            if (vState > 2.5 && vState < 3.5 && r < ring) ink = 1.0;
            if (vState > 3.5 && r < ring) ink = max(ink, line(abs(vAt.y) - 0.38 * ring, 0.9));
            if (vState > 1.5 && vState < 2.5 && r < ring) ink = max(ink, max(line((vAt.x + vAt.y) * 0.7071, 1.0), line((vAt.x - vAt.y) * 0.7071, 1.0)));
            float halo = 1.0 - smoothstep(ring + 0.6, ring + 1.8, r);
            vec3 c = mix(uPaper, vTone.rgb, ink);
            gl_FragColor = vec4(c, vTone.a * max(ink, halo * 0.8));
            #include <colorspace_fragment>
          }`,
      }),
    [light, pixels, clip],
  );
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} renderOrder={8} />;
}
