import { best, type Chain, chain, combine, uncertainty } from '../../chains/chain.ts';
import { limitFor } from '../../model/limits.ts';
import type { Doubler } from '../../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capGapChain, clearHeight, sparOf, thickness } from '../../parts/layout/meeting.ts';
import { fractionName } from '../../units/drills.ts';
import { NEAR } from '../../units/near.ts';
import { atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { endName } from './capGap.ts';

/*
 * Asks: does a doubler ride on the spar's inside bend instead of lying home? (C14)
 * Channel: its outside radius is its inside radius plus its sheet; where that is less than the spar's inside radius
 * rs it stands off each cap by rs - (rd + t) when flat on the web. Flat piece of height hd: where it runs past the
 * bend tangent by o it stands off the web by rs - √(rs² - o²).
 */

/** Stand-off from each cap of a channel doubler pressed flat on the web; negative means clear by that much. */
export function channelRideChain(skeleton: Skeleton, place: RibPlace, d: Doubler): Chain {
  return chain(
    [1, skeleton.book.get(`${place.spar}.radius`)],
    [-1, skeleton.book.get(`${d.id}.radius`)],
    [-1, thickness(skeleton, d.sheet)],
  );
}

/**
 * Least inside radius, mm, at which a channel doubler of this sheet clears a spar's inside radius. Panel A: 2.4 -
 * 0.635 = 1.765.
 */
export function leastRadius(sparRadius: number, sheet: number): number {
  return Math.max(0, sparRadius - sheet);
}

/**
 * The next 64th of an inch at or above a radius: what a builder has a bending block for. 1.765 mm → 5/64 in (1.984).
 */
export function nextBlock(radius: number): number {
  const step = 25.4 / 64;
  return Math.ceil(radius / step - NEAR) * step;
}

/** How far a flat piece of a height runs past the inside bend tangent of the spar web, each end; negative is clear. */
export function flatOverrunChain(skeleton: Skeleton, place: RibPlace): Chain {
  return combine(
    [-0.5, clearHeight(skeleton, place.spar, place.bay.station)],
    [1, chain([1, skeleton.book.get(`${place.spar}.radius`)])],
  );
}

function channelFinding(skeleton: Skeleton, place: RibPlace, d: Doubler): Finding {
  const { model } = skeleton;
  const restsOn = channelRideChain(skeleton, place, d);
  const rs = skeleton.book.get(`${place.spar}.radius`).best;
  const t = thickness(skeleton, d.sheet).best;
  const block = nextBlock(leastRadius(rs, t));
  return judge({
    check: 'bend-ride',
    at: { ...atEnd(place), doubler: d.id },
    place: d.id,
    restsOn,
    limit: limitFor(model, 'bend-ride'),
    floor: 0,
    sense: (v) => (v > 0 ? 'rides' : 'clear'),
    say: (j) => {
      if (j.value <= 0)
        return sentence(model, j, `${d.id} clears the ${place.spar} spar's bend by ${show(model, -best(restsOn))}`);
      const gap = best(capGapChain(skeleton, place)) - 2 * j.value;
      const until = `Until then ${endName(place)} end ${gap < 0 ? `binds by ${show(model, -gap)}` : `is loose by ${show(model, gap)}`}.`;
      const name = fractionName(block);
      return sentence(
        model,
        j,
        `${d.id} rides on the ${place.spar} spar's bend and stands ${show(model, j.value)} off each cap`,
        {
          todo: `Bend it at ${name ? `${name} (${show(model, block)})` : show(model, block)} or more. ${until}`,
        },
      );
    },
  });
}

function flatFinding(skeleton: Skeleton, place: RibPlace, d: Doubler, height: number): Finding {
  const { model } = skeleton;
  const restsOn = flatOverrunChain(skeleton, place);
  const rs = skeleton.book.get(`${place.spar}.radius`).best;
  const o = height / 2 + best(restsOn);
  const off = (by: number): number => {
    const inside = Math.min(Math.max(by, 0), rs);
    return rs - Math.sqrt(rs * rs - inside * inside);
  };
  const standOff = off(o);
  // The bend is nothing up to its start and steep at its end: how far two uncertainties carry it, the worse way.
  const two = 2 * uncertainty(restsOn);
  const u = Math.max(off(o + two) - standOff, standOff - off(o - two)) / 2;
  const tallest = height - 2 * o;
  return judge({
    check: 'bend-ride',
    at: { ...atEnd(place), doubler: d.id },
    place: d.id,
    restsOn,
    value: standOff,
    u,
    limit: limitFor(model, 'bend-ride'),
    floor: 0,
    sense: (v) => (v > 0 ? 'rides' : 'clear'),
    say: (j) =>
      o > 0
        ? sentence(
            model,
            j,
            `${d.id} runs past the bend of the ${place.spar} spar and stands ${show(model, j.value)} off the web`,
            { todo: `Keep it under ${show(model, tallest)} tall.` },
          )
        : sentence(model, j, `${d.id} stays clear of the ${place.spar} spar's bend by ${show(model, -o)}`),
  });
}

/** Tallest flat piece that stays clear of both bends, mm. Panel A, rear: 50.73 - 2 × 1.9 = 46.93. */
export function tallestFlat(clear: number, sparRadius: number): number {
  return clear - 2 * sparRadius;
}

export function* bendRide(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const place of skeleton.placesAt(bay.station.id)) {
    if (place.spec.ends !== 'nests' || sparOf(skeleton, place.spar).radius === 0) continue;
    for (const d of place.doublers) {
      if (d.form === 'channel') yield channelFinding(skeleton, place, d);
      else if (d.on === 'web' && d.height !== undefined) yield flatFinding(skeleton, place, d, d.height);
    }
  }
}
