import { STOP_LINE, type Step } from '../../sheets/steps/step.ts';
import { STEP_PICTURE, STEP_PLAN } from '../../sheets/steps/stepInk.ts';
import { numberText } from '../../sheets/steps/stepNumber.ts';
import type { StepPicture } from '../../sheets/steps/stepPicture.ts';
import { InkSvg } from '../widgets/InkSvg.tsx';
import './step.css';

const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What is held back, said first: white on ink, with its word. */
function Held({ held }: { held: string }) {
  return (
    <p className="step-held">
      <b>NOT YET.</b> {upper(held)}. Ask first.
    </p>
  );
}

/** The one number of a step. */
function StepNumberBox({ step, units }: { step: Step; units: 'mm' | 'in' }) {
  if (!step.check) return null;
  const { large, small, band } = numberText(step.check, units);
  return (
    <div className="step-number">
      {large.map((l) => (
        <p key={l.words}>
          <b>{l.figure}</b> <span>{l.words}</span>
        </p>
      ))}
      {small && <p className="step-small">{small}</p>}
      {band && <p className="step-band">{band}</p>}
    </div>
  );
}

/** The picture of a step and the plan under it. */
export function StepPictures({ step, picture }: { step: Step; picture: StepPicture | null | false }) {
  return (
    <figure className="step-pictures">
      {picture ? (
        <InkSvg
          ink={picture.ink}
          {...STEP_PICTURE}
          label={`${step.title}: the part dark, the rest grey`}
          className="step-picture"
        />
      ) : (
        <p className="step-picture step-waiting" role="status">
          {picture === null ? 'Drawing…' : 'The picture could not be drawn. Ask the builder.'}
        </p>
      )}
      {picture && (
        <InkSvg ink={picture.plan} {...STEP_PLAN} label={`You stand here. ${step.edge}`} className="step-plan" />
      )}
      <figcaption>You stand here. {step.edge}</figcaption>
    </figure>
  );
}

/** What a step says besides its picture. */
export function StepWords({ step, units, passed }: { step: Step; units: 'mm' | 'in'; passed?: string | undefined }) {
  return (
    <div className="step-words">
      {step.held &&
        (passed ? (
          <p className="step-passed">
            {upper(passed)}: {step.held}.
          </p>
        ) : (
          <Held held={step.held} />
        ))}
      {step.lines.length > 0 && (
        <ul className="step-lines">
          {step.lines.map((l) => (
            <li key={l}>{l}</li>
          ))}
        </ul>
      )}
      {step.layers.length > 0 && (
        <div className="step-layers">
          <p>Layers, drill side on top:</p>
          <ol>
            {step.layers.map((l) => (
              <li key={l}>{l}</li>
            ))}
          </ol>
        </div>
      )}
      <StepNumberBox step={step} units={units} />
      <p className="step-stop">{STOP_LINE}</p>
    </div>
  );
}
