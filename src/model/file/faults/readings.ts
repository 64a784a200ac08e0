import { formatLength } from '../../../units.ts';
import { type Kind, QUANTITIES } from '../../quantities.ts';
import type { Model, Reading } from '../../schema.ts';
import type { SizeEntry } from '../../sizeEntries.ts';
import { instrumentUncertainty, sizeEntries } from '../../sizes.ts';
import { type Fault, type Faults, inMm } from './fault.ts';
import { doubtful, FLOOR, knownSlip, SHEET_FLOOR } from './slips.ts';

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
  'step',
  'offset',
  'edge',
]);

/** What readings are asked against: the panel's sizes and the drawing's noses, looked up once for all of them. */
interface Drawn {
  readonly model: Model;
  readonly entries: ReadonlyMap<string, SizeEntry>;
  readonly noses: ReadonlyMap<string, number>;
}

/** One reading, the size it is of, and the path to it. */
interface Read {
  readonly reading: Reading;
  readonly entry: SizeEntry;
  readonly path: string;
}

/**
 * About what a size reads: its drawing value; for a clear height the spar's depth, for a nose its station's drawing.
 */
function expectedOf({ entries, noses }: Drawn, e: SizeEntry): number | undefined {
  if (e.kind === 'clear') return entries.get(`${e.of.spar}.depth@${e.of.station}`)?.nominal;
  if (e.kind === 'protrusion') return noses.get(e.of.station ?? '');
  return e.nominal;
}

/** What a doubted thickness may be instead: the sheet of the panel nearest to it, where one is within 5 %. */
function anotherSheet(model: Model, e: SizeEntry, value: number): string {
  const off = (t: number): number => Math.abs(value - t) / t;
  const [nearest] = model.sheets
    .filter((s) => s.id !== e.of.sheet && off(s.thickness) <= 0.05)
    .sort((a, b) => off(a.thickness) - off(b.thickness));
  return nearest
    ? ` Is it another sheet? Sheet ${nearest.id} is ${formatLength(nearest.thickness, model.units)}.`
    : ' Is it another sheet?';
}

/** A reading was taken with something whose uncertainty is known. */
function* instrumentFaults({ model }: Drawn, { reading, entry, path }: Read): Faults {
  if (instrumentUncertainty(model, entry.kind, reading.instrument) === undefined)
    yield {
      path: `${path}.instrument`,
      sentence: `the ${entry.name} was read with "${reading.instrument}"; expected ${Object.keys(QUANTITIES[entry.kind].u).join(' or ')}, or an instrument of your own with its uncertainty for "${entry.kind}"; correct it`,
    };
}

function* signFaults({ reading, entry, path }: Read): Faults {
  if (reading.value < 0 && !SIGNED.has(entry.kind))
    yield {
      path: `${path}.value`,
      sentence: `the ${entry.name} reads ${inMm(reading.value)}; expected a size, which cannot be negative; check the sign`,
    };
}

/**
 * The ± tolerance of a size that has a drawing. A clear height has none of its own and a nose sticks out by a
 * difference: only slips of unit and point, and large sizes, are asked about there.
 */
function toleranceOf(model: Model, e: SizeEntry): number | undefined {
  if (e.nominal === undefined) return undefined;
  return e.tolerance ?? model.tolerances[e.kind] ?? QUANTITIES[e.kind].tolerance;
}

/** A reading far from its drawing is asked about, unless a person has said that it reads so. */
function* slipFaults(drawn: Drawn, { reading, entry, path }: Read): Faults {
  const { model } = drawn;
  const expected = expectedOf(drawn, entry);
  if (expected === undefined || entry.kind === 'joggle' || reading.sure) return;
  const sheet = entry.kind === 'thickness';
  const doubt = doubtful(reading.value, expected, toleranceOf(model, entry), sheet ? SHEET_FLOOR : FLOOR);
  if (!doubt) return;
  const slipped = knownSlip(reading.value, expected) !== undefined;
  const another = sheet && !slipped ? anotherSheet(model, entry, reading.value) : '';
  const below = entry.kind === 'clear' ? 'less than ' : '';
  yield {
    path: `${path}.value`,
    sentence: `the reading of the ${entry.name} is ${inMm(reading.value)} where about ${inMm(expected)} is expected: ${doubt}; correct the number or its unit, or mark the reading "sure": true if that is what it reads`,
    question: `The drawing says ${below}${formatLength(expected, model.units)}: ${doubt}.${another}`,
  };
}

function* finiteFaults({ reading, entry, path }: Read): Faults {
  if (!Number.isFinite(reading.value))
    yield { path: `${path}.value`, sentence: `the ${entry.name} reads ${reading.value}; expected an ordinary number` };
}

function* oneReading(drawn: Drawn, reading: Reading, path: string): Faults {
  const entry = drawn.entries.get(reading.size);
  if (!entry) {
    yield {
      path: `${path}.size`,
      sentence: `a reading is given for "${reading.size}", which is not a size of this panel; expected a name such as M2.length or front.depth@S2; correct it`,
    };
    return;
  }
  const read: Read = { reading, entry, path };
  yield* instrumentFaults(drawn, read);
  yield* signFaults(read);
  yield* slipFaults(drawn, read);
  yield* finiteFaults(read);
}

/** Faults of a model's readings: unknown sizes, unknown instruments, likely slips of unit or point. */
export function readingFaults(model: Model): Fault[] {
  const drawn: Drawn = {
    model,
    entries: sizeEntries(model),
    noses: new Map(model.stations.map((s) => [s.id, s.nose])),
  };
  return model.readings.flatMap((reading, i) => [...oneReading(drawn, reading, `readings[${i}]`)]);
}
