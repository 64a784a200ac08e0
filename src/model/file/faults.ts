import { nacaDigits } from '../../geometry/airfoil.ts';
import { formatLength } from '../../units.ts';
import { alongAt } from '../along.ts';
import { flangesPoint } from '../hand.ts';
import { STARTING_LIMITS } from '../limits.ts';
import { APART, partNames } from '../metal.ts';
import { type Kind, QUANTITIES } from '../quantities.ts';
import type { Along, Hole, Joint, MainRib, Model, Rib, RibEnd, Spar } from '../schema.ts';
import { instrumentUncertainty, type SizeEntry, sizeEntries } from '../sizes.ts';

/** One thing wrong with a file: where it stands, and one sentence (found, expected, what to do). */
export interface Fault {
  /** Path in the file, such as `ribs[3].length`. */
  readonly path: string;
  readonly sentence: string;
  /** Where a person may answer "yes, that is what it reads": what makes it doubtful. */
  readonly question?: string;
}

const mm = (v: number): string => formatLength(v, 'mm');

class Faults {
  readonly all: Fault[] = [];
  add(path: string, sentence: string, question?: string): void {
    this.all.push({ path, sentence, ...(question === undefined ? {} : { question }) });
  }
}

/** Names must be one thing each, over stations, ribs, doublers, brackets, joints and sheets alike. */
function names(model: Model, out: Faults): void {
  const seen = new Map<string, string>();
  const groups = {
    stations: model.stations,
    ribs: model.ribs,
    doublers: model.doublers,
    brackets: model.brackets,
    joints: model.joints,
  } as const;
  for (const [group, list] of Object.entries(groups)) {
    list.forEach((item, i) => {
      const first = seen.get(item.id);
      if (first)
        out.add(
          `${group}[${i}].id`,
          `the name "${item.id}" is already used at ${first}; expected each part to have its own name; rename one of them`,
        );
      else seen.set(item.id, `${group}[${i}]`);
      if (item.id === 'front' || item.id === 'rear')
        out.add(
          `${group}[${i}].id`,
          `the name "${item.id}" is kept for the spar; expected a name of its own; choose another`,
        );
    });
  }
  for (const spar of ['front', 'rear'] as const) {
    for (const group of ['strips', 'webDoublers'] as const) {
      model.spars[spar]?.[group].forEach((item, i) => {
        if (item.id === undefined) return;
        const path = `spars.${spar}.${group}[${i}]`;
        const first = seen.get(item.id);
        if (first)
          out.add(
            `${path}.id`,
            `the name "${item.id}" is already used at ${first}; expected each part to have its own name; rename one of them`,
          );
        else seen.set(item.id, path);
      });
    }
  }
  for (const [group, word] of [
    ['sheets', 'sheet'],
    ['instruments', 'instrument'],
    ['stages', 'stage'],
  ] as const) {
    const list: readonly { readonly id: string }[] = model[group];
    list.forEach((item, i) => {
      const twin = list.findIndex((o) => o.id === item.id);
      if (twin < i)
        out.add(
          `${group}[${i}].id`,
          `the ${word} name "${item.id}" is already used at ${group}[${twin}]; expected a name each; rename one of them`,
        );
    });
  }
}

/** Points along the span stand in order, each at a place of its own. */
function alongFaults(path: string, a: Along, out: Faults): void {
  if (typeof a === 'number') return;
  for (let i = 1; i < a.length; i++)
    if (a[i]![0] <= a[i - 1]![0])
      out.add(
        `${path}[${i}]`,
        `the place ${mm(a[i]![0])} does not come after ${mm(a[i - 1]![0])}; expected places in order along the span; put them in order`,
      );
}

function stations(model: Model, out: Faults): void {
  for (let i = 1; i < model.stations.length; i++) {
    const [a, b] = [model.stations[i - 1]!, model.stations[i]!];
    if (b.y === a.y)
      out.add(
        `stations[${i}].y`,
        `station ${b.id} stands at ${mm(b.y)}, the same place as ${a.id}; expected a place of its own; move one or remove it`,
      );
    else if (b.y < a.y)
      out.add(
        `stations[${i}].y`,
        `station ${b.id} at ${mm(b.y)} comes before ${a.id} at ${mm(a.y)}: the stations are crossed; expected them in order along the span; put them in order or correct the place`,
      );
  }
}

function sparFaults(name: 'front' | 'rear', spar: Spar, out: Faults): void {
  const path = `spars.${name}`;
  if (spar.to <= spar.from)
    out.add(
      `${path}.to`,
      `the ${name} spar ends at ${mm(spar.to)} and starts at ${mm(spar.from)}; expected it to end further out; correct one of them`,
    );
  spar.strips.forEach((s, i) => {
    if (s.from < spar.from - 1 || s.to > spar.to + 1)
      out.add(
        `${path}.strips[${i}]`,
        `the strip runs from ${mm(s.from)} to ${mm(s.to)}, past the ${name} spar, which runs from ${mm(spar.from)} to ${mm(spar.to)}; expected it inside; shorten it`,
      );
  });
  spar.webDoublers.forEach((s, i) => {
    if (s.from < spar.from - 1 || s.to > spar.to + 1)
      out.add(
        `${path}.webDoublers[${i}]`,
        `the web doubler runs from ${mm(s.from)} to ${mm(s.to)}, longer than the ${name} spar from ${mm(spar.from)} to ${mm(spar.to)}; expected it inside; shorten it`,
      );
  });
  alongFaults(`${path}.depth`, spar.depth, out);
  alongFaults(`${path}.capWidth`, spar.capWidth, out);
}

function endFaults(
  model: Model,
  rib: Rib,
  y: number | undefined,
  name: 'front' | 'rear' | 'tail',
  end: RibEnd,
  path: string,
  out: Faults,
): void {
  const spar = model.spars[name === 'rear' ? 'rear' : 'front'];
  if (spar && end.ends === 'nests') {
    const into = name === 'tail' ? 'forward' : name === 'front' ? 'aft' : 'forward';
    if (spar.opens !== into)
      out.add(
        `${path}.ends`,
        `${rib.id} is said to nest in the ${name === 'rear' ? 'rear' : 'front'} spar, which opens ${spar.opens}; expected a channel that opens ${into} toward it; say "butts" or turn the channel`,
      );
    if (y !== undefined && end.height > alongAt(spar.depth, y) * 1.5)
      out.add(
        `${path}.height`,
        `${rib.id} is ${mm(end.height)} high where the spar is ${mm(alongAt(spar.depth, y))} deep; expected less than the spar; check the unit`,
      );
  }
  if (end.row >= end.tab)
    out.add(
      `${path}.row`,
      `the row of ${rib.id} lies ${mm(end.row)} from its web, outside its ${mm(end.tab)} flange; expected it inside; move the row or widen the flange`,
    );
}

function ribFaults(model: Model, out: Faults): void {
  const places = new Map(model.stations.map((s) => [s.id, s.y]));
  const taken = new Map<string, string>();
  model.ribs.forEach((rib, i) => {
    const path = `ribs[${i}]`;
    const y = places.get(rib.station);
    if (y === undefined)
      out.add(
        `${path}.station`,
        `${rib.id} stands at station "${rib.station}", which is not in the list; expected one of ${list([...places.keys()])}; correct it or add the station`,
      );
    else {
      const spar = model.spars.front;
      const past = (rib.kind === 'tip' ? rib.flange : 0) + 5;
      if (y < spar.from - past || y > spar.to + past)
        out.add(
          `${path}.station`,
          `${rib.id} at ${rib.station} stands at ${mm(y)}, off the end of the front spar, which runs from ${mm(spar.from)} to ${mm(spar.to)}; expected a place on the spar; move the rib or lengthen the spar`,
        );
    }
    const spot = `${rib.station}/${rib.kind}`;
    const other = taken.get(spot);
    if (other)
      out.add(
        `${path}.station`,
        `${rib.id} and ${other} are both ${rib.kind} ribs at ${rib.station}; expected one; move one of them`,
      );
    taken.set(spot, rib.id);
    if (rib.kind === 'main') endFaults(model, rib, y, 'front', rib.front, `${path}.front`, out);
    if (rib.kind !== 'nose') endFaults(model, rib, y, 'rear', rib.rear, `${path}.rear`, out);
    else endFaults(model, rib, y, 'tail', rib.tail, `${path}.tail`, out);
    if (rib.kind === 'tip' && rib.registered === 'front' && !rib.clip)
      out.add(
        `${path}.clip`,
        `${rib.id} is registered on the front spar but no clip is given; expected "clip" with the hole's place; add it or say "rear"`,
      );
    if (rib.kind === 'tip' && rib.registered === 'rear' && !model.spars.rear)
      out.add(
        `${path}.registered`,
        `${rib.id} is registered on the rear spar, and the panel has none; expected "front" with a clip; change it`,
      );
    if (rib.kind === 'main' && typeof rib.length === 'number' && y !== undefined && model.spars.rear)
      slip(`${path}.length`, `length of ${rib.id}`, rib.length, alongAt(model.webToWeb, y), out);
    if (rib.flutes) {
      const { each, width, depth } = rib.flutes;
      if (each * width > 0.8 * rib.length)
        out.add(
          `${path}.flutes`,
          `${each} flutes of ${mm(width)} do not fit along ${rib.id}, which is ${mm(rib.length)} long; expected four fifths of its length at most; take fewer or narrower ones`,
        );
      if (depth > rib.flange / 2)
        out.add(
          `${path}.flutes.depth`,
          `flutes ${mm(depth)} deep in the ${mm(rib.flange)} flange of ${rib.id}; expected half the flange at most; press them less deep`,
        );
    }
    const shapes = {
      profile: rib.kind === 'main' ? undefined : rib.profile,
      contour: rib.kind === 'nose' ? undefined : rib.contour,
    };
    for (const [key, shape] of Object.entries(shapes)) {
      if (shape?.kind === 'naca4' && nacaDigits(shape.name) === undefined)
        out.add(
          `${path}.${key}`,
          `${shape.name} names no section for ${rib.id}; expected four digits, the last two its thickness; write one such as 0012`,
        );
    }
    if (rib.kind !== 'nose' && rib.contour && y !== undefined) contourFault(model, rib, y, `${path}.contour`, out);
    rib.holes.forEach((h, k) => {
      if (h.fromFront - h.diameter / 2 < 0 || h.fromFront + h.diameter / 2 > rib.length)
        out.add(
          `${path}.holes[${k}]`,
          `the ${h.kind} hole at ${mm(h.fromFront)} with ${mm(h.diameter)} runs off ${rib.id}, which is ${mm(rib.length)} long; expected it inside; move it`,
        );
    });
  });
}

/** A section must reach from ahead of the front spar past the rib's rear end. */
function contourFault(model: Model, rib: Rib & { kind: 'main' | 'tip' }, y: number, path: string, out: Faults): void {
  const { contour } = rib;
  const ahead = model.stations.find((s) => s.id === rib.station)?.nose ?? 0;
  const back = ahead + (rib.kind === 'main' ? rib.length : alongAt(model.webToWeb, y));
  if (contour && contour.chord < back)
    out.add(
      `${path}.chord`,
      `the section of ${rib.id} is ${mm(contour.chord)} long, and the rib ends ${mm(back)} behind its nose; expected a chord that reaches past the rear spar; give the whole chord, or leave the contour out for a straight rib`,
    );
}

/** From here up a size is doubted by its share alone, mm; below, by what its tolerance allows. */
const SMALL = 20;
/** What a small size may be off beside its tolerances before anybody asks, mm: picked. Sheets differ by little, so little is asked about. */
const FLOOR = 0.3;
const SHEET_FLOOR = 0.05;

/** How far a size may be off its drawing before it is doubted, mm. Below 20 mm three tolerances and a floor, but never less than 15 %, and never more than half of it where that is more than the floor. */
function allowed(expected: number, tolerance: number, floor: number): number {
  const size = Math.abs(expected);
  if (size >= SMALL) return 0.15 * size;
  const most = Math.max(3 * tolerance + floor, 0.15 * size);
  return Math.max(floor, Math.min(most, size / 2));
}

/** What looks wrong with a value: about ten or 25.4 times (or a tenth, or 1/25.4 of) what the drawing says, or far off it; undefined where nothing does. */
function doubtful(value: number, expected: number, tolerance?: number, floor = FLOOR): string | undefined {
  if (expected === 0) return undefined;
  const ratio = Math.abs(value / expected);
  const near = (k: number): boolean => Math.abs(ratio / k - 1) < 0.12;
  if (near(25.4) || near(1 / 25.4)) return 'millimetres and inches look exchanged';
  if (near(10) || near(0.1)) return 'a decimal point looks slipped';
  if (tolerance === undefined && Math.abs(expected) < SMALL) return undefined;
  const off = Math.abs(Math.abs(value) - Math.abs(expected));
  if (off <= allowed(expected, tolerance ?? 0, floor)) return undefined;
  return ratio >= 3
    ? `that is ${Math.round(ratio)} times as much`
    : `that is ${Math.round(Math.abs(ratio - 1) * 100)} % off`;
}

/** What a doubted thickness may be instead: the sheet of the panel nearest to it, where one is within 5 %. */
function anotherSheet(model: Model, e: SizeEntry, value: number): string {
  const off = (t: number): number => Math.abs(value - t) / t;
  const others = model.sheets
    .filter((s) => `sheet.${s.id}` !== e.key && off(s.thickness) <= 0.05)
    .sort((a, b) => off(a.thickness) - off(b.thickness));
  return others[0]
    ? ` Is it another sheet? Sheet ${others[0].id} is ${formatLength(others[0].thickness, model.units)}.`
    : ' Is it another sheet?';
}

/** A drawing size that looks like a slip beside the others of the drawing. */
function slip(path: string, name: string, value: number, expected: number, out: Faults): void {
  const doubt = doubtful(value, expected);
  if (doubt)
    out.add(
      path,
      `the ${name} is ${mm(value)} where about ${mm(expected)} is expected: ${doubt}; correct the number or its unit`,
    );
}

const list = (ids: readonly string[]): string =>
  ids.length > 8 ? `${ids.slice(0, 8).join(', ')} and ${ids.length - 8} more` : ids.join(', ');

function sheetFaults(model: Model, out: Faults): void {
  const known = new Set(model.sheets.map((s) => s.id));
  const need = (path: string, sheet: string | undefined) => {
    if (sheet !== undefined && !known.has(sheet))
      out.add(
        path,
        `the sheet "${sheet}" is not in the list of sheets; expected one of ${list([...known])}; correct it or add the sheet`,
      );
  };
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    if (!spar) continue;
    need(`spars.${name}.sheet`, spar.sheet);
    spar.strips.forEach((s, i) => need(`spars.${name}.strips[${i}].sheet`, s.sheet));
    spar.webDoublers.forEach((s, i) => need(`spars.${name}.webDoublers[${i}].sheet`, s.sheet));
  }
  model.ribs.forEach((r, i) => need(`ribs[${i}].sheet`, r.sheet));
  model.doublers.forEach((d, i) => need(`doublers[${i}].sheet`, d.sheet));
  model.brackets.forEach((b, i) => need(`brackets[${i}].sheet`, b.sheet));
  need('skin.sheet', model.skin?.sheet);
  model.stock.sheets.forEach((s, i) => need(`stock.sheets[${i}]`, s));
  model.stock.blanks?.forEach((blank, i) => need(`stock.blanks[${i}].sheet`, blank.sheet));
}

function doublerFaults(model: Model, out: Faults): void {
  const ribs = new Map(model.ribs.map((r) => [r.id, r]));
  model.doublers.forEach((d, i) => {
    const path = `doublers[${i}]`;
    const rib = ribs.get(d.part);
    if (!rib) {
      out.add(
        `${path}.part`,
        `${d.id} belongs to "${d.part}", which is not a rib of this panel; expected a rib's name; correct it`,
      );
      return;
    }
    const ends = rib.kind === 'main' ? ['front', 'rear'] : rib.kind === 'nose' ? ['tail'] : ['rear'];
    if (!ends.includes(d.end))
      out.add(
        `${path}.end`,
        `${d.id} is at the ${d.end} of ${d.part}, a ${rib.kind} rib; expected ${ends.join(' or ')}; correct it`,
      );
    if (d.form === 'channel' && d.radius === undefined)
      out.add(`${path}.radius`, `${d.id} is a channel without a bend radius; expected its inside radius in mm; add it`);
    if (d.form === 'channel' && d.on !== 'web')
      out.add(
        `${path}.on`,
        `${d.id} is a channel on "${d.on}"; expected "web", for a channel covers web and caps; correct it`,
      );
  });
}

function jointFaults(model: Model, out: Faults): void {
  const parts = partNames(model);
  const stationIds = new Set(model.stations.map((s) => s.id));
  const places = new Map(model.stations.map((s) => [s.id, s.y]));
  const mains = new Map(model.ribs.filter((r) => r.kind === 'main').map((r) => [r.id, r]));
  model.brackets.forEach((b, i) => {
    if (!stationIds.has(b.station))
      out.add(
        `brackets[${i}].station`,
        `${b.id} stands at station "${b.station}", which is not in the list; expected one of ${list([...stationIds])}; correct it or add the station`,
      );
    if (!model.spars[b.spar])
      out.add(
        `brackets[${i}].spar`,
        `${b.id} sits on the ${b.spar} spar, and the panel has none; expected "front"; change it or add the spar`,
      );
  });
  model.joints.forEach((j, i) => {
    const path = `joints[${i}]`;
    if (!stationIds.has(j.station))
      out.add(
        `${path}.station`,
        `${j.id} is at station "${j.station}", which is not in the list; expected one of ${list([...stationIds])}; correct it or add the station`,
      );
    if (!model.spars[j.end])
      out.add(
        `${path}.end`,
        `${j.id} is at the ${j.end} spar, and the panel has none; expected "front"; change it or add the spar`,
      );
    j.layers.forEach((part, k) => {
      if (!parts.has(part))
        out.add(
          `${path}.layers[${k}]`,
          `${j.id} has a layer "${part}", which is not a part of this panel; expected the name of one; correct it or add the part`,
        );
      const first = j.layers.indexOf(part);
      if (first < k)
        out.add(
          `${path}.layers[${k}]`,
          `${j.id} has the layer "${part}" twice, at layers[${first}] too; expected each layer once; remove one`,
        );
    });
    if (!j.layers.includes(j.guide))
      out.add(
        `${path}.guide`,
        `${j.id} is guided by "${j.guide}", which is not one of its layers; expected one of ${list(j.layers)}; name one of them`,
      );
    if (j.final <= j.pilot)
      out.add(
        `${path}.final`,
        `${j.id} has a final size of ${mm(j.final)} and a pilot of ${mm(j.pilot)}; expected the final size to be larger; correct one of them`,
      );
    const spar = model.spars[j.end];
    const y = places.get(j.station);
    const onCap = j.on === 'top' || j.on === 'bottom';
    const rib = onCap ? undefined : j.layers.map((part) => mains.get(part)).find((r) => r !== undefined);
    holeFaults(j, rib, rib && y !== undefined ? flangesPoint(model, rib, y) : 1, path, out);
    if (onCap && spar && y !== undefined) capFaults(j, spar, y, path, out);
  });
}

/** `along` of a hole is along the span, whichever way the flange points from the rib's web. */
function holeFaults(j: Joint, rib: MainRib | undefined, points: 1 | -1, path: string, out: Faults): void {
  const ids = new Set<string>();
  const end = rib?.[j.end];
  j.holes.forEach((h, k) => {
    if (ids.has(h.id))
      out.add(`${path}.holes[${k}].id`, `${j.id} has two holes named "${h.id}"; expected a name each; rename one`);
    ids.add(h.id);
    if (end && Math.abs(h.up) > end.height / 2)
      out.add(
        `${path}.holes[${k}].up`,
        `hole ${h.id} of ${j.id} lies ${mm(Math.abs(h.up))} from the chord line, outside the ${mm(end.height)} end flange of ${rib?.id}; expected it on the flange; move it`,
      );
    const off = (end?.row ?? 0) + points * h.along;
    if (end && (off < 0 || off > end.tab))
      out.add(
        `${path}.holes[${k}].along`,
        `hole ${h.id} of ${j.id} lies ${mm(off)} from the web of ${rib?.id}, outside its ${mm(end.tab)} flange; expected it on the flange; move it`,
      );
    h.layers.forEach((l, m) => {
      if (!j.layers.includes(l.part))
        out.add(
          `${path}.holes[${k}].layers[${m}].part`,
          `hole ${h.id} of ${j.id} names "${l.part}", which is not one of the joint's layers; expected one of ${list(j.layers)}; correct it`,
        );
      if (l.through !== undefined && l.through !== APART && (l.through === l.part || !j.layers.includes(l.through)))
        out.add(
          `${path}.holes[${k}].layers[${m}].through`,
          `hole ${h.id} of ${j.id} in ${l.part} is said to be drilled through "${l.through}"; expected another of the joint's layers (${list(j.layers.filter((p) => p !== l.part))}) or "apart"; correct it`,
        );
      else if (ringed(h, l.part) && h.layers.findIndex((o) => ringed(h, o.part)) === m)
        out.add(
          `${path}.holes[${k}].layers[${m}].through`,
          `hole ${h.id} of ${j.id} in ${l.part} is said to be drilled through itself, by way of ${l.through}; expected one layer to come first; say which was "apart" or leave it out`,
        );
      if (l.state !== 'none' && l.size === 0)
        out.add(
          `${path}.holes[${k}].layers[${m}].size`,
          `hole ${h.id} of ${j.id} is said to be ${l.state} in ${l.part} with size 0; expected its present diameter; write it or say "none"`,
        );
    });
  });
}

/** Whether following "drilled through" from a layer comes back to it. */
function ringed(hole: Hole, part: string): boolean {
  let at: string | undefined = part;
  for (let i = 0; i <= hole.layers.length; i++) {
    at = hole.layers.find((l) => l.part === at)?.through;
    if (at === part) return true;
  }
  return false;
}

/** A row in a cap stays between the web's bend and the cap's free edge. */
function capFaults(j: Joint, spar: Spar, y: number, path: string, out: Faults): void {
  j.holes.forEach((h, k) => {
    const width = alongAt(spar.capWidth, y + h.along);
    if (h.up <= spar.radius || h.up >= width)
      out.add(
        `${path}.holes[${k}].up`,
        `hole ${h.id} of ${j.id} lies ${mm(h.up)} from the web's face, off the flat of the ${j.end} cap, which runs from ${mm(spar.radius)} to ${mm(width)}; expected it on the cap; move it`,
      );
  });
}

/** No stage may open a joint to final before every layer of it is in. */
function stageFaults(model: Model, out: Faults): void {
  const parts = partNames(model);
  const joints = new Map(model.joints.map((j) => [j.id, j]));
  // A part whose first mention is not that a stage brings it was there from the start.
  const late = new Set<string>();
  const seen = new Set<string>();
  for (const s of model.stages) {
    for (const part of s.takes ?? []) seen.add(part);
    for (const part of s.brings) if (!seen.has(part)) late.add(part);
    for (const part of s.brings) seen.add(part);
  }
  const arrived = new Set([...parts].filter((part) => !late.has(part)));
  model.stages.forEach((s, i) => {
    s.takes?.forEach((part, k) => {
      if (!arrived.delete(part))
        out.add(
          `stages[${i}].takes[${k}]`,
          `stage ${s.id} takes off "${part}", which is not in by then; expected a part that an earlier stage brings; correct it`,
        );
    });
    s.brings.forEach((part, k) => {
      if (!parts.has(part))
        out.add(
          `stages[${i}].brings[${k}]`,
          `stage ${s.id} brings "${part}", which is not a part of this panel; expected the name of one; correct it`,
        );
      arrived.add(part);
    });
    s.opens.forEach((id, k) => {
      const joint = joints.get(id);
      if (!joint)
        out.add(
          `stages[${i}].opens[${k}]`,
          `stage ${s.id} opens "${id}", which is not a joint of this panel; expected the name of one; correct it`,
        );
      const missing = joint?.layers.filter((part) => !arrived.has(part)) ?? [];
      if (missing.length > 0)
        out.add(
          `stages[${i}].opens[${k}]`,
          `stage ${s.id} opens ${id} to final before ${missing.join(' and ')} ${missing.length > 1 ? 'are' : 'is'} in; expected every layer to be in first; open it at a later stage`,
        );
    });
  });
  if (model.now !== undefined && !model.stages.some((s) => s.id === model.now))
    out.add(
      'now',
      `the present stage "${model.now}" is not in the list of stages; expected one of ${list(model.stages.map((s) => s.id))}; name one of them`,
    );
}

/** Kinds of size that may lie either side of nothing; all others are lengths of metal or room. */
const SIGNED: ReadonlySet<Kind> = new Set<Kind>([
  'droop',
  'open',
  'bias',
  'bow',
  'camber',
  'protrusion',
  'lean',
  'skew',
  'heightOver',
  'bench',
  'level',
  'plumb',
  'gap',
  'offset',
  'edge',
]);

/** About what a size reads: its drawing value; for a clear height the spar's depth, for a nose its station's drawing. */
function expectedOf(
  key: string,
  entries: ReadonlyMap<string, SizeEntry>,
  noses: ReadonlyMap<string, number>,
): number | undefined {
  const e = entries.get(key);
  if (e?.kind === 'clear') return entries.get(key.replace('.clear@', '.depth@'))?.nominal;
  return e?.kind === 'protrusion' ? noses.get(key.slice('nose@'.length)) : e?.nominal;
}

/** Faults of a model's readings: unknown sizes, unknown instruments, likely slips of unit or point. */
export function readingFaults(model: Model): Fault[] {
  const out = new Faults();
  const entries = sizeEntries(model);
  const noses = new Map(model.stations.map((s) => [s.id, s.nose]));
  model.readings.forEach((r, i) => {
    const e = entries.get(r.size);
    if (!e) {
      out.add(
        `readings[${i}].size`,
        `a reading is given for "${r.size}", which is not a size of this panel; expected a name such as M2.length or front.depth@S2; correct it`,
      );
      return;
    }
    if (instrumentUncertainty(model, e.kind, r.instrument) === undefined)
      out.add(
        `readings[${i}].instrument`,
        `the ${e.name} was read with "${r.instrument}"; expected ${Object.keys(QUANTITIES[e.kind].u).join(' or ')}, or an instrument of your own with its uncertainty for "${e.kind}"; correct it`,
      );
    if (r.value < 0 && !SIGNED.has(e.kind))
      out.add(
        `readings[${i}].value`,
        `the ${e.name} reads ${mm(r.value)}; expected a size, which cannot be negative; check the sign`,
      );
    const expected = expectedOf(r.size, entries, noses);
    const sheet = e.kind === 'thickness';
    // A clear height has no drawing of its own and a nose sticks out by a difference: only slips of unit and point, and large sizes, are asked about there.
    const tolerance =
      e.nominal === undefined ? undefined : (e.tolerance ?? model.tolerances[e.kind] ?? QUANTITIES[e.kind].tolerance);
    const doubt =
      expected === undefined || e.kind === 'joggle' || r.sure
        ? undefined
        : doubtful(r.value, expected, tolerance, sheet ? SHEET_FLOOR : FLOOR);
    const another = doubt?.startsWith('that is') && sheet ? anotherSheet(model, e, r.value) : '';
    if (doubt)
      out.add(
        `readings[${i}].value`,
        `the reading of the ${e.name} is ${mm(r.value)} where about ${mm(expected!)} is expected: ${doubt}; correct the number or its unit, or mark the reading "sure": true if that is what it reads`,
        `The drawing says ${e.kind === 'clear' ? 'less than ' : ''}${formatLength(expected!, model.units)}: ${doubt}.${another}`,
      );
    if (!Number.isFinite(r.value))
      out.add(`readings[${i}].value`, `the ${e.name} reads ${r.value}; expected an ordinary number`);
  });
  return out.all;
}

/** Tolerances and uncertainties are given for kinds of size there are. */
function kindFaults(model: Model, out: Faults): void {
  const need = (path: string, kinds: Readonly<Record<string, unknown>>) => {
    for (const kind of Object.keys(kinds))
      if (!Object.hasOwn(QUANTITIES, kind))
        out.add(
          `${path}.${kind.slice(0, 40)}`,
          `"${kind.slice(0, 40)}" is not a kind of size; expected one of ${Object.keys(QUANTITIES).join(', ')}; correct it`,
        );
  };
  need('tolerances', model.tolerances);
  model.instruments.forEach((instrument, i) => need(`instruments[${i}].u`, instrument.u));
}

function limitFaults(model: Model, out: Faults): void {
  model.limits.forEach((l, i) => {
    const twin = model.limits.findIndex((o) => o.check === l.check);
    if (twin < i)
      out.add(
        `limits[${i}].check`,
        `a limit for "${l.check}" is already given at limits[${twin}]; expected one; remove one of them`,
      );
    if (!STARTING_LIMITS.some((s) => s.check === l.check))
      out.add(
        `limits[${i}].check`,
        `there is no limit for "${l.check}"; expected one of ${STARTING_LIMITS.map((s) => s.check).join(', ')}; correct it`,
      );
    const [[f1, f2], [a1, a2]] = [l.fits, l.act];
    const backwards = (low: number | null, high: number | null): boolean => low !== null && high !== null && low > high;
    if (backwards(f1, f2) || backwards(a1, a2))
      out.add(
        `limits[${i}]`,
        `a band of ${l.check} ends below where it starts; expected the lower bound first; exchange them`,
      );
    else if ((a1 !== null && (f1 === null || a1 > f1)) || (a2 !== null && (f2 === null || a2 < f2)))
      out.add(
        `limits[${i}]`,
        `the act threshold of ${l.check} lies inside its fits threshold; expected it at the same place or beyond; correct one of them`,
      );
  });
}

function referenceFaults(model: Model, out: Faults): void {
  const ids = new Set(model.stations.map((s) => s.id));
  model.survey.supports.forEach((s, i) => {
    if (!ids.has(s))
      out.add(
        `survey.supports[${i}]`,
        `a jig block is named at "${s}", which is not a station; expected one of ${list([...ids])}; correct it`,
      );
  });
  if (model.survey.reference !== undefined && !ids.has(model.survey.reference))
    out.add(
      'survey.reference',
      `the twist reference "${model.survey.reference}" is not a station; expected one of ${list([...ids])}; correct it`,
    );
}

/** A decision has a name of its own, and each of its lines a before or an after. */
function decisionFaults(model: Model, out: Faults): void {
  model.decisions?.forEach((d, i) => {
    const twin = model.decisions!.findIndex((o) => o.id === d.id);
    if (twin < i)
      out.add(
        `decisions[${i}].id`,
        `the decision name "${d.id}" is already used at decisions[${twin}]; expected a name each; rename one of them`,
      );
    if (d.kind === 'taken' && d.remedies.length === 0)
      out.add(
        `decisions[${i}].remedies`,
        `decision ${d.id} says that something was taken and names nothing; expected what was taken, or the kind "accepted" or "left-open"; correct one of them`,
      );
    if (d.kind !== 'taken' && d.findings.length === 0)
      out.add(
        `decisions[${i}].findings`,
        `decision ${d.id} leaves something as it is and names no finding; expected the finding that was left; name it`,
      );
    d.lines.forEach((line, k) => {
      if (!line.before && !line.after)
        out.add(
          `decisions[${i}].lines[${k}]`,
          `the line about ${line.finding} has neither a before nor an after; expected at least one; add it or remove the line`,
        );
    });
  });
}

/** Every fault of a file that has the right form but says something that cannot be: all at once, each with its path. */
export function meaningFaults(model: Model): Fault[] {
  const out = new Faults();
  names(model, out);
  stations(model, out);
  sparFaults('front', model.spars.front, out);
  if (model.spars.rear) sparFaults('rear', model.spars.rear, out);
  sheetFaults(model, out);
  ribFaults(model, out);
  alongFaults('webToWeb', model.webToWeb, out);
  alongFaults('survey.rearHigher', model.survey.rearHigher, out);
  doublerFaults(model, out);
  jointFaults(model, out);
  stageFaults(model, out);
  if (out.all.length === 0) out.all.push(...readingFaults(model));
  kindFaults(model, out);
  limitFaults(model, out);
  referenceFaults(model, out);
  decisionFaults(model, out);
  return out.all;
}
