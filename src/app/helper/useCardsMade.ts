import { useRef, useState } from 'react';
import type { Model } from '../../model/schema.ts';
import type { PaperName } from '../../sheets/paper/page.ts';
import type { Step } from '../../sheets/steps/step.ts';
import type { CardSize } from '../../sheets/steps/stepCards.ts';
import type { StepPicture } from '../../sheets/steps/stepPicture.ts';
import { printPages } from '../paper/printer.ts';
import { saveSheets } from '../paper/savePdf.ts';
import { today } from '../state/today.ts';
import { drawStep } from './useStepPicture.ts';

type Making =
  | { readonly kind: 'idle' }
  | { readonly kind: 'drawing'; readonly done: number; readonly of: number }
  | { readonly kind: 'failed'; readonly sentence: string };

interface Wanted {
  readonly model: Model;
  readonly steps: readonly Step[];
  readonly size: CardSize;
  readonly paper: PaperName;
}

export type Way = 'print' | 'pdf';

/** Draws the cards one by one with a count, then prints or saves them; it can be stopped. */
export function useCardsMade() {
  const [making, setMaking] = useState<Making>({ kind: 'idle' });
  const stopped = useRef(false);
  const draw = async ({ model, steps }: Wanted): Promise<ReadonlyMap<string, StepPicture> | undefined> => {
    const pictures = new Map<string, StepPicture>();
    for (const [i, step] of steps.entries()) {
      setMaking({ kind: 'drawing', done: i, of: steps.length });
      pictures.set(step.id, await drawStep(model, step));
      if (stopped.current) return undefined;
    }
    return pictures;
  };
  const make = async (wanted: Wanted, way: Way): Promise<void> => {
    const { model, steps, size, paper } = wanted;
    stopped.current = false;
    const pictures = await draw(wanted);
    if (pictures) {
      // What writes paper comes only now: it brings the widths of the fonts along.
      const [{ stepCards }, { pageSvg }] = await Promise.all([
        import('../../sheets/steps/stepCards.ts'),
        import('../../sheets/paper/svg.ts'),
      ]);
      const sheet = stepCards({ model, date: today(), paper }, steps, pictures, size);
      const pages = sheet.pages.map((p) => ({ svg: pageSvg(p), width: p.paper.width, height: p.paper.height }));
      if (way === 'pdf') await saveSheets([sheet], `${model.name} step cards`);
      else printPages(pages, sheet.title);
    }
    setMaking({ kind: 'idle' });
  };
  const start = (wanted: Wanted, way: Way): void =>
    void make(wanted, way).catch((e: unknown) => {
      const why = e instanceof Error ? e.message : String(e);
      setMaking({ kind: 'failed', sentence: `The cards could not be made: ${why}.` });
    });
  const stop = (): void => {
    stopped.current = true;
  };
  return { making, start, stop };
}
