import { useMemo, useState } from 'react';
import {
  cutSpars,
  readShape,
  type Shape,
  shapeNow,
  shapeRibs,
  shapeSection,
  straightBehind,
} from '../../../model/edits/profileEdits.ts';
import type { Model } from '../../../model/schema.ts';
import { parseLength } from '../../../units/read.ts';
import { exactLength } from '../../../units.ts';
import { useApp } from '../../state/store.ts';
import { sentencesOf } from '../sentences.ts';
import { ShapeDepths } from './ShapeDepths.tsx';
import { ShapePicture } from './ShapePicture.tsx';

/** What is typed over the shape as it is; null where nothing is. */
interface Typed {
  readonly text: string | null;
  readonly chord: string | null;
  readonly straight: boolean | null;
}
const NOTHING: Typed = { text: null, chord: null, straight: null };

/** What the boxes say, read. */
interface Read {
  readonly text: string;
  readonly shape: Shape | null;
  /** The shape goes on behind the nose, and cuts the spars. */
  readonly section: boolean;
  /** What was understood of the shape, or what is wrong with it. */
  readonly says: string;
  readonly faults: readonly string[];
  readonly chordText: string;
  readonly chord: number;
  readonly chordFault: string;
  readonly straight: boolean;
}

function read(model: Model, typed: Typed): Read {
  const now = shapeNow(model);
  const text = typed.text ?? now.text;
  const shape = readShape(text);
  const length = typed.chord === null ? undefined : parseLength(typed.chord, model.units);
  const given = length?.ok && length.value > 0 ? length.value : now.chord;
  return {
    text,
    shape: shape.ok ? shape.shape : null,
    section: shape.ok && shapeSection(shape.shape) !== undefined,
    says: shape.ok ? shape.says : '',
    faults: shape.ok ? [] : shape.sentences.slice(0, 4),
    chordText: typed.chord ?? exactLength(now.chord, model.units),
    chord: given,
    chordFault: length?.ok === false ? length.sentence : '',
    straight: typed.straight ?? straightBehind(model),
  };
}

/** The box for the shape itself, with what was understood of it. */
function ShapeBox({ shape, onType }: { shape: Read; onType: (text: string) => void }) {
  return (
    <>
      <label htmlFor="shape-text">
        A four-digit section (0012), coordinates pasted from a published table, ellipse, or straight
      </label>
      <textarea
        id="shape-text"
        rows={shape.text.includes('\n') ? 7 : 1}
        value={shape.text}
        spellCheck={false}
        onChange={(e) => onType(e.target.value)}
      />
      {shape.shape ? (
        <p className="small">{shape.says}</p>
      ) : (
        <ul className="refused" role="alert">
          {shape.faults.map((s) => (
            <li key={s}>{s}</li>
          ))}
        </ul>
      )}
    </>
  );
}

interface FormProps {
  readonly shape: Read;
  /** Something is typed and not taken. */
  readonly own: boolean;
  readonly onType: (part: Partial<Typed>) => void;
  readonly onTaken: () => void;
}

function ShapeForm({ shape: now, own, onType, onTaken }: FormProps) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [fault, setFault] = useState('');
  const { shape, section, chord, chordText, chordFault, straight } = now;
  const cut = shape && section ? cutSpars(model, shape, chord) : undefined;
  const take = (): void => {
    if (!shape || chordFault !== '') return;
    const wrong = sentencesOf(edit(shapeRibs(model, shape, chord, { straightBehind: straight })));
    setFault(wrong);
    if (wrong === '') onTaken();
  };
  const type = (part: Partial<Typed>): void => {
    setFault('');
    onType(part);
  };
  return (
    <form
      className="shape-form"
      onKeyDown={(e) => {
        // What is pasted here is not lost by the key that puts the sheet away.
        if (e.key === 'Escape' && own) e.stopPropagation();
      }}
      onSubmit={(e) => {
        e.preventDefault();
        take();
      }}
    >
      <ShapeBox shape={now} onType={(text) => type({ text })} />
      <label>
        Chord at {model.stations[0]?.id}{' '}
        <input size={10} value={chordText} onChange={(e) => type({ chord: e.target.value })} disabled={!section} />
      </label>
      {chordFault && (
        <p className="refused" role="alert">
          {chordFault}
        </p>
      )}
      {section && (
        <label className="tick">
          <input type="checkbox" checked={straight} onChange={(e) => type({ straight: e.target.checked })} /> straight
          between the spars
        </label>
      )}
      <p className="add-form">
        <button type="submit" className="take" disabled={!shape || chordFault !== ''}>
          Bend the ribs to it
        </button>
        {section && (
          <button
            type="button"
            className="quiet"
            disabled={!cut}
            onClick={() => cut && setFault(sentencesOf(edit(cut)))}
          >
            Draw the spars as deep as it leaves them
          </button>
        )}
      </p>
      {fault && (
        <p className="refused" role="alert">
          {fault}
        </p>
      )}
      <p className="small">
        The chord tapers with the ribs. Rib ends keep their own heights: between them a rib bulges over the straight
        line as the section does.
      </p>
    </form>
  );
}

/** The shape of the ribs: by name or from a published table, where the spars cut it, and what depth it leaves them. */
export function ShapesSheet() {
  const model = useApp((s) => s.model);
  const [typed, setTyped] = useState(NOTHING);
  const now = useMemo(() => read(model, typed), [model, typed]);
  const { shape, chord, straight, section } = now;
  return (
    <div className="shapes">
      <ShapeForm
        shape={now}
        own={typed !== NOTHING}
        onType={(part) => setTyped({ ...typed, ...part })}
        onTaken={() => setTyped(NOTHING)}
      />
      {shape && <ShapePicture model={model} shape={shape} chord={chord} straight={straight} />}
      {shape && section && <ShapeDepths model={model} shape={shape} chord={chord} />}
    </div>
  );
}
