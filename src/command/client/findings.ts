import { placeWords, printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer } from './ask-server.ts';
import type { ClientCommand } from './client-command.ts';
import { FILE_OPTION, findFile } from './find-file.ts';
import { findingsOfFile, waitUntilCompared } from './listed-findings.ts';
import { findPart, PART_OPTION, TITLE_OPTION } from './find-part.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** `findings`: what the newest report on a file says, one finding a line. */
export const findings: ClientCommand = {
  words: 'findings',
  operands: [],
  says: 'lists the findings of a file: number, weight, page, what was ruled, sentence',
  options: {
    title: TITLE_OPTION,
    part: PART_OPTION,
    file: FILE_OPTION,
    wait: { takes: null, says: 'waits until the file has been compared' },
    ...SERVER_OPTIONS,
  },
  async run(given, tools) {
    const client = askServer(await serverOf(given, tools), tools);
    const { part } = await findPart(client, given);
    const file = await findFile(client, { given, partId: part.id });
    if (given.isSet('wait')) await waitUntilCompared(client, file.id, tools.stop);
    const { items } = await findingsOfFile(client, file.id);
    for (const { mark, weight, finding, ruling } of items) {
      const ruled = ruling.state === 'none' ? '' : ruling.state;
      const cells = [mark, weight, placeWords(finding), ruled, finding.says];
      tools.desk.out.write(`${cells.map(printable).join('\t')}\n`);
    }
    return items.some(({ weight }) => weight !== 'note') ? EXIT.differs : EXIT.matches;
  },
};
