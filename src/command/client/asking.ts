import { createInterface } from 'node:readline/promises';
import { Writable } from 'node:stream';
import { Refusal } from '../../model/index.ts';

/** How a command asks the person who runs it. */
export interface Asking {
  /** False in a script: then nothing is asked, and what is needed has to be given in another way. */
  readonly isPossible: boolean;
  /** A line that is not shown while it is typed. */
  hidden(question: string): Promise<string>;
  /** A line. */
  line(question: string): Promise<string>;
}

/** Asks at the terminal of a process; questions go to standard error, so that results can be piped. */
export function askAt(input: NodeJS.ReadStream, output: NodeJS.WriteStream): Asking {
  const ask = async (question: string, isHidden: boolean): Promise<string> => {
    let isMuted = false;
    const shown = new Writable({
      write(chunk: Buffer, _encoding, done) {
        if (!isMuted) output.write(chunk);
        done();
      },
    });
    const lines = createInterface({ input, output: shown, terminal: true });
    try {
      const answer = lines.question(question);
      isMuted = isHidden;
      return await answer;
    } finally {
      lines.close();
      if (isHidden) output.write('\n');
    }
  };
  return {
    isPossible: input.isTTY && output.isTTY,
    hidden: (question) => ask(question, true),
    line: (question) => ask(question, false),
  };
}

/** For a program that nobody sits at. */
export const NOBODY_TO_ASK: Asking = {
  isPossible: false,
  hidden: refuseToAsk,
  line: refuseToAsk,
};

function refuseToAsk(question: string): Promise<string> {
  throw new Refusal('malformed', { pointer: question.trim(), expected: 'somebody at a terminal', found: 'a script' });
}
