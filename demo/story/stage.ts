import { join } from 'node:path';
import type { Cast, Person } from './cast.ts';
import { programAt, type Visitor } from './visitor.ts';

/** The files of the story, in the order in which they are sent. Paths. */
export interface StoryBooks {
  readonly dummy: string;
  /** Prepared for press, nothing else changed. */
  readonly prepared: string;
  /** Altered by both sides: what the author wanted, and what went wrong with it. */
  readonly corrected: string;
  /** What was agreed, and a fault that was not there before. */
  readonly slipped: string;
  /** What was agreed, but not in order: no plates are to be made of it. */
  readonly disordered: string;
  /** What was agreed, and nothing else. */
  readonly mended: string;
  /** Pages of the dummy on which the author altered something. */
  readonly authorsPages: readonly number[];
}

/** How a command ended. */
export interface Ran {
  readonly exit: number;
  readonly out: string;
  readonly err: string;
}

/** Runs the program for a person, on a machine of their own. */
export type RunProgram = (home: Home, words: readonly string[]) => Promise<Ran>;

/** A person's own machine: a folder, what the program remembers there, and how it reaches the archive. */
export interface Home {
  readonly folder: string;
  readonly environment: Readonly<Record<string, string>>;
}

/** What a stage is set up with. */
export interface StageOrder {
  readonly origin: string;
  /** The link that makes the first account. */
  readonly firstLink: string;
  readonly cast: Cast;
  readonly title: string;
  readonly books: StoryBooks;
  /** Where the machines of the people lie. */
  readonly homes: string;
  readonly run: RunProgram;
  /** A sentence of the story. */
  readonly tell: (sentence: string) => void;
}

/** Where the story is played: a service that runs, and people with machines of their own. */
export interface Stage extends Omit<StageOrder, 'run'> {
  /** What came of it so far. */
  readonly ids: { title: string; part: string };
  /** Of everybody who has one. */
  readonly tokens: Map<Person, string>;
  homeOf(person: Person): Home;
  /**
   * Runs the program as a person.
   *
   * @param exits  the exit statuses that the story can go on with
   * @throws {Error} it ended otherwise; what it said is in the message
   */
  run(person: Person, words: readonly string[], exits?: readonly number[]): Promise<Ran>;
  /** Asks the service with a person's token. */
  ask(person: Person): Visitor;
}

/** Sets the stage. */
export function setStage(order: StageOrder): Stage {
  const tokens = new Map<Person, string>();
  const homeOf = (person: Person): Home => {
    const folder = join(order.homes, person.signInName);
    const environment = {
      INIT_CWD: folder,
      XDG_STATE_HOME: join(folder, 'state'),
      WITNESSLEAF_SERVER: order.origin,
      WITNESSLEAF_TOKEN: tokens.get(person) ?? '',
      WITNESSLEAF_PASSPHRASE: person.passphrase,
    };
    return { folder, environment };
  };
  return {
    ...order,
    ids: { title: '', part: '' },
    tokens,
    homeOf,
    ask: (person) => programAt(order.origin, tokens.get(person) ?? ''),
    async run(person, words, exits = [0]) {
      const ran = await order.run(homeOf(person), words);
      if (exits.includes(ran.exit)) return ran;
      const said = [ran.out, ran.err].filter((text) => text !== '').join('\n');
      throw new Error(
        `${person.name}: witnessleaf ${words.join(' ')} ended with ${ran.exit}, not ${exits.join(' or ')}\n${said}`,
      );
    },
  };
}

/** Of every command that concerns the title. */
export function onTitle({ title }: Stage): readonly string[] {
  return ['--title', title];
}

/** Of every command that signs: the person's own key; what is signed was read in the story. */
export const SIGNING = ['--key', 'own.p12', '--yes'] as const;
