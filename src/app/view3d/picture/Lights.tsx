import type { Light } from '../../../scene/palette.ts';

/** How bright each light is, on a light and on a dark screen. */
const BRIGHT = {
  light: { sky: 1.9, ground: '#cfc9bd', key: 1.75, fill: 0.4, along: 0.9 },
  dark: { sky: 2.3, ground: '#8a8f96', key: 2.1, fill: 0.7, along: 0.8 },
} as const;

/** Soft daylight from over the builder's left shoulder and a weak fill; along the span, one more from the viewer. */
export function Lights({ light, along }: { light: Light; along: 1 | -1 | null }) {
  const { sky, ground, key, fill, along: fromViewer } = BRIGHT[light];
  return (
    <>
      <hemisphereLight args={['#ffffff', ground, sky]} position={[0, 0, 1]} />
      <directionalLight position={[0.6, -0.65, 1.15]} intensity={key} />
      <directionalLight position={[-0.7, 0.8, 0.35]} intensity={fill} />
      {along !== null && <directionalLight position={[0.15, -along, 0.3]} intensity={fromViewer} />}
    </>
  );
}
