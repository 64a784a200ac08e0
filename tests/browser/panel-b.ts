import type { Model } from '../../src/model/schema.ts';
import { HOLES } from '../../src/model/tables/holeTable.ts';
import { JOINTS } from '../../src/model/tables/jointTables.ts';
import { BRACKETS, DOUBLERS } from '../../src/model/tables/pieceTables.ts';
import { MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../../src/model/tables/ribTables.ts';
import { SPAR_TABLE, STRIPS } from '../../src/model/tables/sparTables.ts';
import { STATIONS } from '../../src/model/tables/stationTable.ts';
import type { Table } from '../../src/model/tables/tables.ts';
import type { Hands } from './hands.ts';

/** Clicks and keystrokes of the long way, typed cell by cell, as `enterPanelBCellByCell` counts them. */
export const CELL_BY_CELL = 1542;

/** The inside radius that the drawing bends every rib of the table in view at. */
async function bendAllAt(h: Hands, radius: string): Promise<void> {
  await h.click(h.button(/^inside bend radius of all in common/));
  await h.type(radius);
  await h.key('Enter');
}

/** Panel B typed in from nothing. */
export async function enterPanelB(h: Hands): Promise<void> {
  const { page } = h;
  await h.click(page.locator('.panel-name'));
  await h.click(h.button('Start a new panel…'));
  await h.click(page.getByText('Tapered wing panel with washout'));
  await h.fill('What do you call it?', 'washed-out wing');
  await h.fill('Where does each rib stand, from one datum?', '30 355 680 1010 1340 1670 1995 2320 2650');
  const sheets = page.getByLabel('What sheet is it bent from?');
  const [fore, aft] = [
    page.getByRole('group', { name: 'Front spar', exact: true }),
    page.getByRole('group', { name: 'Rear spar', exact: true }),
  ];
  await h.click(sheets.first());
  await h.type('.05');
  for (const text of ['166', '120']) {
    await h.key('Tab');
    await h.type(text);
  }
  await h.click(fore.getByLabel('How wide are its caps?'));
  await h.type('22');
  await h.unfold(fore, 'How large is its inside bend radius?');
  await h.type('4');
  await h.click(page.getByRole('group', { name: 'Strips in the front caps' }).getByLabel('yes'));
  await h.fill('What sheet is it?', '.063');
  await h.key('Tab');
  await h.type('1310');
  await h.click(aft.getByLabel('How deep is it over the caps, at the root?'));
  await h.type('102');
  await h.key('Tab');
  await h.type('74');
  await h.click(aft.getByLabel('How wide are its caps?'));
  await h.type('18');
  await h.unfold(aft, 'How large is its inside bend radius?');
  await h.type('2.4');
  await h.fill('How far is it from the front web to the rear web, at the root?', '632');
  for (const text of ['470', '228', '171']) {
    await h.key('Tab');
    await h.type(text);
  }
  await h.fill('How many degrees nose down is the tip?', '2.2');
  await h.fill('And the nose ribs?', '.032');
  await h.fill('And the tip ribs?', '.032');
  await h.fill('How much lower is a rib end than the room between the caps?', '.2');
  await h.key('Tab');
  await h.type('.1');
  await h.unfold(page.getByRole('group', { name: 'Rivets through the webs' }), 'How many in a row at the front web?');
  await h.type('5');
  await h.click(h.button('Lay it on the bench'));

  // Relief holes at the rear, and the two wider flanges at the bracket.
  await h.click(h.button('ribs and pieces'));
  await h.click(h.button(/^rear relief hole centre from the end of all in common/));
  await h.type('20');
  await h.key('Enter');
  await bendAllAt(h, '2');
  await h.click(h.button(/^front end flange of M6/));
  await h.type('22');
  await h.key('Tab');
  await h.type('11');
  await h.click(h.button(/^nose ribs/));
  await bendAllAt(h, '2.4');
  await h.click(h.button(/^tail end flange of N6/));
  await h.type('22');
  await h.key('Tab');
  await h.type('11');
  await h.key('Enter');

  await h.click(h.button(/^tip ribs/));
  await bendAllAt(h, '2.4');

  // The bracket's sheet, the strip as it was finished.
  await h.click(h.button('spars and sheets'));
  await h.fill('Another sheet, thick', '.09');
  await h.key('Enter');
  await h.click(h.button(/^outboard end of front strip 1/));
  await h.type('1375');
  await h.key('Enter');

  // Doubler behind N6 and the bracket ahead of it.
  await h.click(h.button('ribs and pieces'));
  await h.click(h.button(/^doublers and packers/));
  await h.choose(page.getByLabel('Rib it belongs to'), 'N6');
  await h.choose(page.getByLabel('Form of the piece'), 'web');
  await h.choose(page.getByLabel('Sheet of the piece'), 's032');
  await h.click(h.button('Add it'));
  await h.click(h.button(/^height of D6/));
  await h.type('90');
  await h.key('Tab');
  await h.type('84');
  await h.key('Enter');
  await h.click(h.button(/^brackets/));
  await h.choose(page.getByLabel('Station of the bracket'), 'W6');
  await h.click(h.button('Add it'));
  await h.click(h.button(/^width of B6/));
  await h.type('22');
  await h.key('Tab');
  await h.type('90');
  await h.key('Enter');

  // Its joint, and what is drilled by now.
  await h.click(h.button('joints and holes'));
  await h.click(h.button(/^rivet diameter of K6/));
  await h.choose(page.getByLabel('rivet diameter of K6'), '4.7625');
  await h.click(h.button(/^least grip of K6/));
  await h.type('3.2004');
  await h.click(h.button(/^number of holes of K6/));
  await h.type('3');
  await h.key('Tab');
  await h.type('30');
  await h.key('Enter');
  await h.click(h.button('Pilots are drilled through all that is in'));
  await h.click(h.button(/^holes /));
  for (const layer of [2, 3]) {
    await h.click(h.button(new RegExp(`^state in layer ${layer} of K6 h1`)));
    await h.choose(page.getByLabel(`state in layer ${layer} of K6 h1`), 'final');
  }
}

/** The tables whose cells are typed one after another on the long way, and the button that shows each. */
const LONG_WAY: readonly (readonly [sheet: string, kind: RegExp | null, table: Table])[] = [
  ['spars and sheets', null, SPAR_TABLE],
  ['spars and sheets', null, STRIPS],
  ['stations', null, STATIONS],
  ['ribs and pieces', /^main ribs/, MAIN_RIBS],
  ['ribs and pieces', /^nose ribs/, NOSE_RIBS],
  ['ribs and pieces', /^tip ribs/, TIP_RIBS],
  ['ribs and pieces', /^doublers/, DOUBLERS],
  ['ribs and pieces', /^brackets/, BRACKETS],
  ['joints and holes', null, JOINTS],
  ['joints and holes', /^holes /, HOLES],
];

/**
 * The same panel with no help but plain tables: a start of the right number of ribs, then every cell that is not as drawn
 * typed by itself. What the starts, tapers, common values and rules save is counted against this.
 */
export async function enterPanelBCellByCell(h: Hands, target: Model, saved: () => Promise<Model>): Promise<void> {
  const { page } = h;
  await h.click(page.locator('.panel-name'));
  await h.click(h.button('Start a new panel…'));
  await h.click(page.getByText('Tapered wing panel with washout'));
  await h.fill('What do you call it?', target.name);
  await h.fill('How many ribs stand along it, both ends counted?', '9');
  await h.click(page.getByRole('group', { name: 'Strips in the front caps' }).getByLabel('yes'));
  await h.unfold(page.getByRole('group', { name: 'Rivets through the webs' }), 'How many in a row at the front web?');
  await h.type('5');
  await h.click(h.button('Lay it on the bench'));
  await h.click(page.getByLabel('ribs keep their fit'));
  await h.click(h.button('spars and sheets'));
  for (const sheet of ['.05', '.063', '.09']) {
    await h.fill('Another sheet, thick', sheet);
    await h.key('Enter');
  }
  for (const [sheet, kind, table] of LONG_WAY) {
    await h.click(h.button(sheet));
    if (kind) await h.click(h.button(kind));
    if (table === DOUBLERS) {
      await h.choose(page.getByLabel('Rib it belongs to'), 'N6');
      await h.choose(page.getByLabel('Form of the piece'), 'web');
      await h.choose(page.getByLabel('Sheet of the piece'), 's032');
      await h.click(page.getByLabel('the rib is made for it'));
      await h.click(h.button('Add it'));
    }
    if (table === BRACKETS) {
      await h.choose(page.getByLabel('Station of the bracket'), 'W6');
      await h.click(h.button('Add it'));
    }
    const now = await saved();
    for (const row of table.rows(now)) {
      for (const column of table.columns(now)) {
        const [own, wanted] = [column.read(now, row.id), column.read(target, row.id)];
        if (!column.write || own === undefined || wanted === undefined || own === wanted) continue;
        if (typeof own === 'number' && typeof wanted === 'number' && Math.abs(own - wanted) < 5e-5) continue;
        const name = `${column.name} of ${row.name}`;
        await h.click(h.button(new RegExp(`^${name}, `)));
        if (column.kind === 'choice') {
          await h.choose(page.getByLabel(name, { exact: true }), String(wanted));
          continue;
        }
        await h.type(String(wanted));
        await h.key('Enter');
      }
    }
  }
}
