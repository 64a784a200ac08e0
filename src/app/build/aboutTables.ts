import type { SheetName } from './desk.ts';

/** What one sheet or table of Build is for, and the question it answers. */
interface About {
  readonly ask?: string;
  readonly says: string;
}

/** What each sheet of Build is for. */
export const ABOUT_SHEETS: Readonly<Record<Exclude<SheetName, 'start'>, About>> = {
  stations: {
    says: 'A station is a place along the span where a rib stands, measured from one datum. Each row gives the place and the depth of the spars there. Move one, and its ribs and their holes go along.',
  },
  spars: {
    says: 'The spars are the two long beams that the ribs stand between. Here is which way each opens, how it is bent, and the sheet all parts are cut from.',
  },
  ribs: {
    says: 'Every formed part has a row. What is the same for most stands once, above the rows; type in a row only where a part differs.',
  },
  shapes: {
    says: 'The shape is the outline of the wing cut across. Choose one by name or paste a table of points, and the ribs get their depths from it.',
  },
  joints: {
    says: 'A joint is one row of holes through the parts that lie on each other there. Here is which parts it goes through, its rivet, and the pilot and final drill.',
  },
  stages: {
    says: 'Stages are the order of assembly: what comes in, and what is drilled or opened then. A hole is asked about at its own stage, so the order decides what may be done tonight.',
  },
  limits: {
    says: 'A limit says how far a place may be off: to here it fits, beyond there it must be put right. Each names who says so. Change one only with the designer’s word.',
  },
  stock: {
    says: 'What lies in your shop: sheet, shims, packs, drills, rivets. Remedies use only what is here, so write down what you have and take out what you have not.',
  },
  compare: {
    says: 'Here another panel lies beside this one: the other hand, an earlier state, or a file. What differs is listed, sizes first, then answers.',
  },
};

/** What a table holds that a newcomer may never have met, by the table's id. */
export const ABOUT_TABLES: Readonly<Record<string, About>> = {
  main: {
    ask: 'What is a main rib?',
    says: 'A main rib stands between the front and the rear spar. Its flanges lie inside the spar caps, so its end heights and its length decide whether it goes in.',
  },
  nose: {
    ask: 'What is a nose rib?',
    says: 'A nose rib stands ahead of the front spar and shapes the leading edge. Its length from tail to nose decides whether the edge is straight.',
  },
  tip: {
    ask: 'What is a tip rib?',
    says: 'A tip rib closes the end of the panel, nose and all in one piece, from the rear spar to the nose point. Whether its rear end or a clip on the front spar holds it is in its row.',
  },
  doublers: {
    ask: 'What is a doubler?',
    says: 'A doubler is a second layer of sheet that strengthens a place; a packer only fills a gap. Both take up room, so a rib with one fits differently from one without. One that is not on the drawing wants the designer’s word.',
  },
  brackets: {
    ask: 'What is a bracket?',
    says: 'A bracket is a bent piece that joins a rib to a spar, or carries something at one place. It is a layer of its own in the holes that go through it.',
  },
  strips: {
    ask: 'What is a cap strip?',
    says: 'A cap strip is a flat strip on the spar’s cap, over part of the span. It makes the cap thicker there, and its end must stay clear of the ribs.',
  },
  joints: {
    ask: 'What is a row?',
    says: 'A row is the line of holes of one joint, drilled and riveted together. Its layers are named in the order the drill goes through them.',
  },
  holes: {
    ask: 'Where is a hole measured from?',
    says: 'Along the span from the row’s own line. Up from the chord line where the hole is in a web, and from the web’s flat face where it is in a cap. What is drilled in each layer stands beside it.',
  },
};
