import { describe, expect, it } from 'vitest';
import { best } from '../../src/chains/chain.ts';
import { channelRideChain, flatOverrunChain } from '../../src/checks/fit/bendRide.ts';
import { reliefChain } from '../../src/checks/fit/corners.ts';
import { nosesOf } from '../../src/checks/fit/noseLine.ts';
import { openKernel } from '../../src/geometry/kernel.ts';
import { meaningFaults } from '../../src/model/file/faults.ts';
import { type Model, panelSchema, type Rib } from '../../src/model/schema.ts';
import type { RibPlace, Skeleton } from '../../src/parts/layout/layout.ts';
import { capGapChain, capSplitChains, chordGapChain } from '../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { type Reads, readOff } from '../../src/solidChecks/readOff.ts';
import { COUNTS } from '../counts.ts';
import { changed, channel, flat, mainRib, panel, readAs } from '../model/panels.ts';
import { randomPanel } from '../random-panel.ts';

/*
 * Every fit two ways: the chain's sum, and what a caliper finds between the faces of the built solids. They must agree to a
 * thousandth of a millimetre, and a flat piece riding on a bend to the bend's own chords besides. Spars as bowed.
 */

const kernel = await openKernel();
const { panels: MANY } = COUNTS;
const CLOSE = 0.001;

interface Pair {
  readonly what: string;
  readonly chain: number;
  readonly solid: number | undefined;
  readonly slack: number;
}

function* pairsOf(skeleton: Skeleton, reads: Reads): Generator<Pair> {
  const pair = (what: string, chain: number, solid: number | undefined, slack = 0): Pair => ({
    what,
    chain,
    solid,
    slack,
  });
  for (const place of skeleton.places) {
    const gap = reads.cap(place);
    if (place.spec.ends === 'nests') {
      // A rib at a slant is taller across by h·φ²/2.
      const phi = slope(skeleton, place.rib);
      const taller = (phi * phi * place.spec.height) / 2;
      yield pair(`C1 ${place.key}`, best(capGapChain(skeleton, place)), gap && gap.top + gap.bottom, taller);
      yield pair(`C2 ${place.key}`, best(capSplitChains(skeleton, place).top), gap?.top, taller + phi * 25);
    }
    yield* ridePairs(skeleton, place, reads);
    // The chain takes a tip rib held by its clip as standing on the rear web all the same.
    const clipped = place.rib.kind === 'tip' && place.rib.registered === 'front';
    if (place.spec.relief && place.spec.ends === 'nests' && !clipped) {
      const hole = reads.relief(place);
      // A rib held higher at one end than at the other leans, its upper hole as far forward as its lower one aft; on a
      // cambered contour the two are not evenly about the middle, by some millimetres at most.
      const uneven = place.rib.kind === 'nose' || !place.rib.contour ? 0 : 3 * slope(skeleton, place.rib);
      yield pair(
        `C16 ${place.key}`,
        reliefAsBowed(skeleton, place),
        hole && (hole.top + hole.bottom) / 2,
        slanted(skeleton, place.rib) + uneven,
      );
    }
  }
  for (const bay of skeleton.bays) {
    if (!bay.main) continue;
    const chain = skeleton.model.stand === 'clamped' ? 0 : best(chordGapChain(skeleton, bay, bay.main, 'bowed'));
    yield pair(`C3 ${bay.main.id}`, chain, reads.chord(bay), slanted(skeleton, bay.main));
  }
  for (const nose of nosesOf(skeleton, 'bowed'))
    yield pair(`C${nose.bay.nose ? 4 : 5} ${nose.mark}`, best(nose.protrusion), reads.nose(nose.bay));
}

/**
 * How much a main rib rises for each mm along the chord, where one end is held higher than the other (as read, or to leave
 * the same daylight over a shim or a strip under one cap): what it leaves at one cap and takes at the other over the cap.
 */
function slope(skeleton: Skeleton, rib: Rib): number {
  if (rib.kind !== 'main') return 0;
  const lift = (place: RibPlace): number => {
    const one = (caps: string): number => ({ top: -1, bottom: 1 })[caps] ?? 0;
    const { y } = place.bay.station;
    const strips = skeleton.model.spars[place.spar]!.strips.filter((s) => y >= s.from && y <= s.to).map(
      (s) => [s.caps, s.sheet] as const,
    );
    const pieces = place.doublers.map((d) => [d.form === 'flat' ? d.on : '', d.sheet] as const);
    const bias = skeleton.book.find(`${place.key}.bias`);
    const thick = (all: readonly (readonly [string, string])[]): number =>
      all.reduce((sum, [caps, sheet]) => sum + (one(caps) * skeleton.book.get(`sheet.${sheet}`).best) / 2, 0);
    return place.spec.ends === 'nests' ? thick(strips) + (bias?.best ?? thick(pieces)) : (bias?.best ?? 0);
  };
  const [front, rear] = skeleton.places.filter((p) => p.rib === rib).map(lift);
  return Math.abs((front ?? 0) - (rear ?? 0)) / rib.length;
}

/** What a rib slanted by φ lacks of its length, Lφ²/2, and how far its holes' middle shifts; nothing for one that lies level. */
function slanted(skeleton: Skeleton, rib: Rib): number {
  const phi = slope(skeleton, rib);
  return phi * phi * rib.length;
}

/** C16 holds the spars straight and never counts a rib that is too long; the solids lie as they lie. */
function reliefAsBowed(skeleton: Skeleton, place: RibPlace): number {
  const { main } = place.bay;
  const chain = best(reliefChain(skeleton, place));
  const { stand } = skeleton.model;
  const open =
    main &&
    place.rib === main &&
    ((place.end === 'front' && stand === 'rear') || (place.end === 'rear' && stand === 'front'));
  if (!main || !open) return chain;
  return (
    chain -
    Math.max(0, best(chordGapChain(skeleton, place.bay, main, 'straight'))) +
    best(chordGapChain(skeleton, place.bay, main, 'bowed'))
  );
}

/**
 * C14 is asked of the piece that lies on the web itself. Left out, because the chain does not know them: a flat piece beside
 * a strip (the chain measures its room between the strips, where the bend is not) or on a rib held off the middle.
 */
function* ridePairs(skeleton: Skeleton, place: RibPlace, reads: Reads): Generator<Pair> {
  const piece = place.doublers.find((d) => d.form === 'channel' || d.on === 'web');
  if (!piece || place.spec.ends !== 'nests') return;
  if (piece.form === 'channel') {
    yield {
      what: `C14 ${piece.id}`,
      chain: best(channelRideChain(skeleton, place, piece)),
      solid: reads.ride(place, piece),
      slack: 0,
    };
    return;
  }
  const spar = skeleton.model.spars[place.spar]!;
  const { y } = place.bay.station;
  const beside = spar.strips.some((s) => y >= s.from && y <= s.to);
  if (beside || skeleton.book.find(`${place.key}.bias`) || piece.height === undefined) return;
  const rs = skeleton.book.get(`${place.spar}.radius`).best;
  const over = piece.height / 2 + best(flatOverrunChain(skeleton, place));
  if (over > 0.9 * rs) return;
  const stands = rs - Math.sqrt(rs * rs - Math.max(over, 0) ** 2);
  // A chord of a quarter bend in six stands in from the circle by r(1 − cos 7.5°), and by more along a slanting way.
  const chord = (rs * (1 - Math.cos(Math.PI / 24))) / Math.sqrt(1 - (Math.max(over, 0) / rs) ** 2);
  // A piece before a rib that slants is off the rib's middle by the slant over its own thickness.
  const off =
    slope(skeleton, place.rib) *
    skeleton.book.get(`sheet.${piece.sheet}`).best *
    (Math.max(over, 0) / Math.sqrt(rs * rs - Math.max(over, 0) ** 2));
  yield { what: `C14 ${piece.id}`, chain: stands, solid: reads.ride(place, piece), slack: chord + off };
}

function valid(seed: number): Model {
  const model = randomPanel(seed);
  expect(meaningFaults(model), `seed ${seed}`).toEqual([]);
  return model;
}

/** Every pair of a panel that differs, in words, and the greatest difference among those without a radius. */
function tried(model: Model): { wrong: string[]; greatest: number; many: number } {
  const skeleton = skeletonOf(model);
  let [greatest, many] = [0, 0];
  const wrong = [...pairsOf(skeleton, readOff(skeleton, kernel))].flatMap(({ what, chain, solid, slack }) => {
    const off = solid === undefined ? Number.POSITIVE_INFINITY : Math.abs(solid - chain);
    many++;
    if (slack === 0 && Number.isFinite(off)) greatest = Math.max(greatest, off);
    return off <= CLOSE + slack ? [] : [`${what}: chain ${chain.toFixed(4)}, solid ${solid?.toFixed(4)}`];
  });
  return { wrong, greatest, many };
}

describe('chain and solid agree', () => {
  it(`on ${MANY} random panels`, () => {
    let [greatest, many] = [0, 0];
    for (let seed = 1; seed <= MANY; seed++) {
      const found = tried(valid(seed));
      greatest = Math.max(greatest, found.greatest);
      many += found.many;
      expect(found.wrong, `seed ${seed}`).toEqual([]);
    }
    console.log(`${MANY} panels, ${many} sizes, greatest difference ${greatest.toFixed(6)} mm`);
    expect(many).toBeGreaterThan(10 * MANY);
  });

  // Each was a fault of the solids, with what put it right; the panel is the least that shows it.
  const PLAIN = panel('plain');
  const withOne = (change: (m: Model) => void) =>
    changed(PLAIN, (m) => {
      m.readings = [];
      m.joints = [];
      m.stages = [];
      delete (m as { now?: string }).now;
      change(m);
    });
  it.each<[string, Model]>([
    [
      'a clear height as read did not decide the room drawn',
      withOne((m) => readAs(m, 'front.clear@S2', 78.1, 'caliper')),
    ],
    [
      'a clear height as read where a strip runs by',
      withOne((m) => {
        m.spars.front.strips.push({ sheet: 's020', from: 0, to: 900, caps: 'both' });
        readAs(m, 'front.clear@S2', 77.2, 'caliper');
      }),
    ],
    ['cap droop was not drawn', withOne((m) => readAs(m, 'front.droop@S2', 0.2, 'caliper'))],
    ['droop was not drawn at a spar’s end on a tip rib', withOne((m) => readAs(m, 'rear.droop@S1', 0.2, 'caliper'))],
    ['flange opening was not drawn', withOne((m) => readAs(m, 'M2.front.open', 0.15, 'feeler'))],
    ['a spar’s bend radius as read was not drawn', withOne((m) => readAs(m, 'front.radius', 2.1, 'radius-leaf'))],
    [
      'a strip under one cap left the rib in the spar’s middle, not the room’s',
      withOne((m) => {
        m.spars.front.strips.push({ sheet: 's020', from: 0, to: 900, caps: 'top' });
      }),
    ],
    [
      'a shim under one cap was not shared between the daylights',
      withOne((m) => m.doublers.push(flat('X', 'M2', 'front', 's020', 'bottom'))),
    ],
    [
      'a doubler did not slant with a rib held higher at one end',
      withOne((m) => {
        readAs(m, 'M2.front.bias', 0.4, 'feeler');
        readAs(m, 'M2.rear.bias', -0.4, 'feeler');
        m.doublers.push(flat('X', 'M2', 'front', 's020', 'bottom'));
      }),
    ],
    [
      'the flat under the cap ended short of its edge where the webs close in',
      withOne((m) => {
        m.webToWeb = [
          [0, 224],
          [300, 200],
          [600, 176],
          [900, 152],
        ];
        mainRib(m, 'M3').length -= 24;
      }),
    ],
    [
      'flanges of a slanted rib followed the caps across the web, not along it',
      withOne((m) => {
        m.webToWeb = [
          [0, 224],
          [300, 200],
          [600, 176],
          [900, 152],
        ];
        mainRib(m, 'M3').length -= 24;
        readAs(m, 'M3.front.bias', 0.5, 'feeler');
        readAs(m, 'M3.rear.bias', -0.5, 'feeler');
        m.doublers.push(flat('X', 'M3', 'front', 's020', 'top'));
      }),
    ],
    [
      'flanges followed one taper all along the chord',
      withOne((m) => {
        m.spars.front.depth = [
          [0, 89],
          [300, 80],
          [600, 71],
          [900, 62],
        ];
        mainRib(m, 'M3').front.height -= 9;
      }),
    ],
    [
      'level readings did not turn the section',
      withOne((m) => {
        [0, -0.4, -0.7, -1.3].forEach((v, i) => {
          readAs(m, `level@S${i + 1}`, v, 'level-reversed');
        });
      }),
    ],
    [
      'a low rib was drawn taller than it is',
      withOne((m) => {
        m.spars.rear!.depth = 27;
        for (const r of m.ribs) if (r.kind !== 'nose') r.rear.height = 25;
      }),
    ],
    [
      'a channel bent easier than the spar, under a cap that droops',
      withOne((m) => {
        m.doublers = [channel('X', 'M2', 'front', 's025', 3.4)];
        readAs(m, 'front.droop@S2', -0.2, 'caliper');
      }),
    ],
  ])('what was wrong: %s', (_, model) => {
    expect(meaningFaults(model)).toEqual([]);
    expect(tried(model).wrong).toEqual([]);
  });

  it('makes panels of the published form', () => {
    for (let seed = 1; seed <= 40; seed++)
      expect(panelSchema.safeParse(JSON.parse(JSON.stringify(valid(seed)))).error).toBeUndefined();
  });
});
