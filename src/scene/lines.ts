import { type Finding, severity } from '../checks/finding.ts';
import type { Vec3 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import { type DrawnPlaces, fromPart, fromSection, onSpar } from './drawnPlaces.ts';
import { nosesIn } from './noses.ts';
import type { Scene, SceneBox, SceneLine } from './shown.ts';

/** The nose line and the line of the noses, and at each station its chord and the same chord untwisted. */
export function linesOf(drawnPlaces: DrawnPlaces, findings: readonly Finding[]): SceneLine[] {
  return [...noseLines(drawnPlaces), ...chordLines(drawnPlaces, findings)];
}

function noseLines(drawnPlaces: DrawnPlaces): SceneLine[] {
  const noses = nosesIn(drawnPlaces).flatMap((n) => (n.frame ? [{ ...n, frame: n.frame }] : []));
  if (noses.length < 2) return [];
  // At the ends the line goes through the noses themselves; between them it is where each nose should be.
  const wanted = noses.map((n, i): Vec3 => {
    const isEnd = i === 0 || i === noses.length - 1;
    return isEnd ? n.point : fromPart(n.frame, [n.x + n.off * drawnPlaces.magnify, 0, 0]);
  });
  return [
    { id: 'nose-line', kind: 'nose-line', points: wanted },
    { id: 'noses', kind: 'noses', points: noses.map((n) => n.point) },
  ];
}

function chordLines(drawnPlaces: DrawnPlaces, findings: readonly Finding[]): SceneLine[] {
  const worst = worstTwist(findings);
  return [...drawnPlaces.stances].flatMap(([station, stance]): SceneLine[] => {
    const rear = drawnPlaces.skeleton.model.spars.rear ? stance.rear : stance.front + 100;
    const nose = -stance.bay.station.nose;
    const finding = worst.get(station);
    const flat = { ...stance, pitch: (stance.bay.station.washout * Math.PI) / 180 };
    return [
      {
        id: `chord:${station}`,
        kind: 'chord',
        station,
        points: [fromSection(stance, nose, 0), fromSection(stance, rear, 0)],
        ...(finding ? { verdict: finding.verdict } : {}),
      },
      {
        id: `level:${station}`,
        kind: 'level',
        station,
        points: [fromSection(flat, nose, 0), fromSection(flat, rear, 0)],
      },
    ];
  });
}

/** The worst answer about each station's twist, of the ways it was read. */
function worstTwist(findings: readonly Finding[]): ReadonlyMap<string, Finding> {
  const worst = new Map<string, Finding>();
  for (const f of findings) {
    if (f.check !== 'twist' || f.station === null) continue;
    const before = worst.get(f.station);
    if (!before || severity(f.verdict) > severity(before.verdict)) worst.set(f.station, f);
  }
  return worst;
}

/** Height of the spar over its bench where nobody has measured it, mm. */
const USUAL_HEIGHT = 60;
const BLOCK = { wide: 34, long: 60 };

/** The bench top under the front spar as measured, and a block under each spar at every support. */
export function benchOf(drawnPlaces: DrawnPlaces, bounds: SceneBox): Scene['bench'] {
  const { model, bays, book } = drawnPlaces.skeleton;
  const heights = bays.flatMap((b) => book.find(`height.front@${b.station.id}`)?.best ?? []);
  const touch = model.survey.touch === 'spar-bottom' ? 1 : 0;
  const over = heights.length > 0 ? heights.reduce((a, b) => a + b, 0) / heights.length : USUAL_HEIGHT;
  const deepest = Math.max(...bays.map((b) => alongAt(model.spars.front.depth, b.station.y)), 0);
  const z = Math.min(-(deepest / 2) * touch - over, bounds.low[2] - 12);
  const named = model.survey.supports.filter((id) => drawnPlaces.stances.has(id));
  const supports =
    named.length > 0 ? named : [bays[0], bays[bays.length - 1]].flatMap((b) => (b ? [b.station.id] : []));
  const blocks = supports.flatMap((id) =>
    (['front', 'rear'] as const).flatMap((name): SceneBox[] => {
      const spar = model.spars[name];
      const stance = drawnPlaces.stances.get(id);
      if (!spar || !stance) return [];
      // A block stands inboard of an end station, under the spar itself.
      const y = Math.min(
        Math.max(stance.bay.station.y, Math.min(spar.from, spar.to) + BLOCK.long / 2),
        Math.max(spar.from, spar.to) - BLOCK.long / 2,
      );
      const [x0, , top] = onSpar(drawnPlaces, name, y, { aft: 0, inside: 0, side: -1 });
      const middle = x0 + ((spar.opens === 'aft' ? 1 : -1) * alongAt(spar.capWidth, y)) / 2;
      return [
        {
          low: [middle - BLOCK.wide / 2, y - BLOCK.long / 2, z],
          high: [middle + BLOCK.wide / 2, y + BLOCK.long / 2, top],
        },
      ];
    }),
  );
  const margin = 110;
  return {
    z,
    low: [bounds.low[0] - margin, bounds.low[1] - margin],
    high: [bounds.high[0] + margin, bounds.high[1] + margin],
    blocks,
  };
}
