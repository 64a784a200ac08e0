import { doorsOf } from '../../model/rested.ts';
import { feelerBook } from './feelers.ts';
import { laidOut, type Skeleton } from './layout.ts';

/** The skeleton of a model. */
export const skeletonOf = doorsOf((model): Skeleton => laidOut(model, feelerBook(model)));
