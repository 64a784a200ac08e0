import type { Model } from '../../../src/model/schema.ts';
import { changed, panel } from '../../model/panels.ts';

/** Four stations of panel A with their joints, rivets, holes and riding doublers, and one sheet on hand: small enough to try everything. */
export const shortTail: Model = changed(panel('narrow-tail'), (m) => {
  const keep = new Set(['S1', 'S2', 'S4', 'S8']);
  m.stations = m.stations.filter((s) => keep.has(s.id));
  m.ribs = m.ribs.filter((r) => keep.has(r.station));
  const ribs = new Set(m.ribs.map((r) => r.id));
  m.doublers = m.doublers.filter((d) => ribs.has(d.part));
  m.joints = m.joints.filter((j) => keep.has(j.station) && j.id[0] !== 'K');
  m.brackets = [];
  m.stages = [];
  delete m.now;
  const at = /@(S\d)|^(?:[MNTDF])(\d)/;
  m.readings = m.readings.filter((r) => {
    const found = at.exec(r.size);
    return !/^(?:level|height|bench)/.test(r.size) && (!found || keep.has(found[1] ?? `S${found[2]}`));
  });
  m.stock = { ...m.stock, sheets: ['s032'], shims: [] };
  m.survey = { ...m.survey, supports: [] };
});
