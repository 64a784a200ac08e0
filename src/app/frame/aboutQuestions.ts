import type { Question } from '../../checks/questions.ts';

/** What each question is for, said to who opens it for the first time. */
export const ABOUT_QUESTIONS: Readonly<Record<Question, string>> = {
  tonight:
    'Here all that is known becomes one list, in order: what disagrees is read again first, causes come before what rests on them, drilling last. Do the first line from its button, and the list is put in order anew.',
  build:
    'Here you say what the drawing wants: stations, ribs, spars, holes. Nothing here is a reading. Start a new panel, or open a table and type from the drawing; the skeleton on the bench follows.',
  measure:
    'Here you write down what you read on the real parts, one size at a time. It says what to read next, where the jaws go, and how sure the answers are by now. A reading takes the place of the drawing’s size in every answer.',
  fit: 'Here every place where two parts must meet is worked out from their sizes: by how much it is loose or binds, and how surely. A full mark was read. A mark that is open, ruled or has a gap is still to be read, or read again.',
  remedy:
    'Here you choose what puts the faults right, and see all that it moves before you decide. A decision is only work to do: tick it when it is made, then read again what it moved. Until then its effect is worked out, not read.',
  drill:
    'Here every hole has an answer: now, not yet, never at this size, or not asked. A hole is now only where the gate of its row says yes. Look at what the gate names, tick it or read it, and the gate moves.',
  true: 'Here you see whether the panel is twisted or bent as a whole, though every joint fits. Level and height readings show it, packs under the spars take it out. Do this before the skin goes on: the skin locks in whatever twist is left.',
  helper:
    'Here the work stands as cards in the order of assembly, one action each, for whoever helps. Tick a card with initials when it is done. Paper for the bench and the log of all that was done are below.',
};
