import { doorsOf } from '../../model/rested.ts';
import { laidOut, type Skeleton } from './layout.ts';
import { feelerBook } from './meeting.ts';

/** The skeleton of a model. */
export const skeletonOf = doorsOf((model): Skeleton => laidOut(model, feelerBook(model)));
