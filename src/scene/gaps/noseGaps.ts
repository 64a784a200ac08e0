import { type Finding, severity } from '../../checks/finding.ts';
import type { Frame } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { type DrawnPlaces, fromPart } from '../drawnPlaces.ts';
import { type NosePlace, nosesIn } from '../noses.ts';
import { type Answers, type DrawnGap, drawnGap, type Ring, SEEN } from './gap.ts';

/** Half the height that is drawn of a nose off its line, mm. */
const TALL = 7;

/** From the nose line to each nose that is off it: short is daylight, proud pushes through. */
export function noseGaps(drawnPlaces: DrawnPlaces, answers: Answers): DrawnGap[] {
  return nosesIn(drawnPlaces).flatMap((nose): DrawnGap[] => {
    const line = answers.of('nose-line', nose.mark);
    const kink = answers.of('nose-kink', nose.mark);
    const finding = worse(kink?.echoOf === undefined ? kink : undefined, line);
    const drawnOff = nose.off * drawnPlaces.magnify;
    if (!finding || !nose.frame || Math.abs(drawnOff) < SEEN) return [];
    const where = { station: nose.station, part: nose.mark, at: 'nose' };
    const faces = [ringAt(nose, nose.frame, 0), ringAt(nose, nose.frame, drawnOff)] as const;
    const gap = drawnGap(drawnPlaces, line ?? finding, where, faces, nose.off < 0 ? 'daylight' : 'interference');
    const straight = nose.bowed ? { state: 'spar held straight; the nose line is drawn with its bow' } : {};
    return [{ ...gap, ...straight, verdict: finding.verdict, findingId: finding.id }];
  });
}

/** The nose's edge over its flange, so far forward (−) or aft of where it is. */
function ringAt({ x, turns, flange }: NosePlace, frame: Frame, shift: number): Ring {
  const at = (y: number, z: number): Vec3 => fromPart(frame, [x + shift, y, z]);
  return [at(0, -TALL), at(turns * flange, -TALL), at(turns * flange, TALL), at(0, TALL)];
}

function worse(a: Finding | undefined, b: Finding | undefined): Finding | undefined {
  if (!a || !b) return a ?? b;
  return severity(a.verdict) > severity(b.verdict) ? a : b;
}
