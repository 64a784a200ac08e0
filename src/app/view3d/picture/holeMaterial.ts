import { Color, type Plane, ShaderMaterial } from 'three';

/** What a hole's mark is by number: open circle, with a bar, crossed, filled; with two bars where it is in doubt. */
export const HOLE_NUMBER = { now: 0, 'not yet': 1, 'not asked': 1, never: 2, done: 3, 'in doubt': 4 } as const;

interface Look {
  readonly paper: string;
  /** Half the canvas' height, CSS px. */
  readonly pixels: number;
  /** Least radius on the screen, CSS px. */
  readonly least: number;
}

/**
 * Marks that face the viewer and never shrink to nothing. Each instance carries its place, its radius, its number and
 * whether its ring is heavy, and its tone with how far it stands out.
 */
export function holeMaterial({ paper, pixels, least }: Look, clip: Plane[]): ShaderMaterial {
  return new ShaderMaterial({
    transparent: true,
    depthTest: false,
    depthWrite: false,
    clipping: true,
    clippingPlanes: clip,
    uniforms: { uPixel: { value: pixels }, uPaper: { value: new Color(paper) }, uLeast: { value: least } },
    vertexShader: /* glsl */ `
      attribute vec3 aAt; attribute vec3 aKind; attribute vec4 aTone;
      uniform float uLeast; uniform float uPixel;
      #include <clipping_planes_pars_vertex>
      varying vec2 vAt; varying float vState; varying float vHeavy; varying vec4 vTone; varying float vSize;
      void main() {
        vec4 centre = modelViewMatrix * vec4(aAt, 1.0);
        vec4 mvPosition = centre;
        #include <clipping_planes_vertex>
        // An orthographic camera: one mm is as many px everywhere; uPixel is half the canvas height in px.
        float perMm = projectionMatrix[1][1];
        float size = max(aKind.x * 1.15, uLeast / max(perMm * uPixel, 1e-6)) + 2.0 / max(perMm * uPixel, 1e-6);
        vSize = size * perMm * uPixel;
        vAt = position.xy * vSize;
        vState = aKind.y; vHeavy = aKind.z; vTone = aTone;
        centre.xy += position.xy * size;
        gl_Position = projectionMatrix * centre;
      }`,
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
        if (vState > 1.5 && vState < 2.5 && r < ring) {
          float cross = max(line((vAt.x + vAt.y) * 0.7071, 1.0), line((vAt.x - vAt.y) * 0.7071, 1.0));
          ink = max(ink, cross);
        }
        float halo = 1.0 - smoothstep(ring + 0.6, ring + 1.8, r);
        vec3 c = mix(uPaper, vTone.rgb, ink);
        gl_FragColor = vec4(c, vTone.a * max(ink, halo * 0.8));
        #include <colorspace_fragment>
      }`,
  });
}
