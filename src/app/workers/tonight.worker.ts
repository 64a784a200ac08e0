import { expose } from 'comlink';
import type { Model } from '../../model/schema.ts';
import { type Evening, tonightOf } from '../../tonight/tonight.ts';
import { joined } from './joined.ts';
import { type Listed, listedOf } from './listed.ts';

/*
 * Puts tonight's list in order away from the screen. The panel asked about last is kept, so that what a new reading
 * leaves as it was is not worked out again.
 */

let last: Model | undefined;

const service = {
  list(came: Model, evening: Pick<Evening, 'hours'>): Listed {
    last = last ? joined(last, came) : came;
    return listedOf(tonightOf(last, evening));
  },
};

export type TonightService = typeof service;

expose(service);
