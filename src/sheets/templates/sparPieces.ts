import { alongAt } from '../../model/along.ts';
import type { Spar, SparName } from '../../model/schema.ts';
import { plateFlat } from '../../parts/flat/flatPattern.ts';
import { type Build, sheetOf } from '../../parts/placed/build.ts';
import { metalOf, type PieceKind, type Single } from './piece.ts';

/* Strips inside the caps of the spars and doublers on their webs: plain plates, cut to size. */

export function sparPieces(b: Build): Single[] {
  return (['front', 'rear'] as const).flatMap((name): Single[] => {
    const spar = b.model.spars[name];
    return spar ? [...strips(b, name, spar), ...webDoublers(b, name, spar)] : [];
  });
}

function strips(b: Build, name: SparName, spar: Spar): Single[] {
  const radius = b.drawn(`${name}.radius`) ?? spar.radius;
  const web = sheetOf(b, spar.sheet);
  return spar.strips.flatMap((strip, i) => {
    const cap = Math.max(alongAt(spar.capWidth, strip.from), alongAt(spar.capWidth, strip.to));
    const caps = strip.caps === 'both' ? (['top', 'bottom'] as const) : [strip.caps];
    const id = strip.id ?? `${name}-strip${i + 1}`;
    return caps.flatMap((on) =>
      plate(b, 'cap strip', {
        ...strip,
        height: cap - web - radius,
        id: `${id}-${on}`,
        where: `inside the ${name} spar's ${on} cap`,
      }),
    );
  });
}

const webDoublers = (b: Build, name: SparName, spar: Spar): Single[] =>
  spar.webDoublers.flatMap((d, i) =>
    plate(b, 'web doubler', { ...d, id: d.id ?? `${name}-plate${i + 1}`, where: `on the ${name} spar's web` }),
  );

/** A plate along a spar: from and to along the span, how high, mm. */
interface Plate {
  readonly id: string;
  readonly where: string;
  readonly sheet: string;
  readonly from: number;
  readonly to: number;
  readonly height: number;
}

function plate(b: Build, kind: PieceKind, { id, where, sheet: sheetId, from, to, height }: Plate): Single[] {
  const sheet = metalOf(b.model, sheetId);
  if (!sheet) return [];
  return [
    {
      kind,
      sheet,
      right: 'along the spar',
      basis: 'drawing',
      notes: [],
      pattern: plateFlat({ width: to - from, height, thickness: sheetOf(b, sheetId) }),
      part: { id, where, over: false, designed: true, y: (from + to) / 2 },
    },
  ];
}
