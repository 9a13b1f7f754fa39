import { accessSync, constants } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT, textOf } from './project.ts';

const readme = textOf('README.md');
const commands = [...readme.matchAll(/^```sh\n([\s\S]*?)^```/gm)].flatMap(([, block]) => block!.trim().split('\n'));

describe('the README', () => {
  it('says what the job is before anything else', () => {
    const [title, , job] = readme.split('\n');
    expect(title).toBe('# Witness Leaf');
    expect(job!.length).toBeGreaterThan(200);
  });

  it('gives two commands for a fresh clone first', () => {
    expect(commands.slice(0, 2)).toEqual(['npm ci && npm run demo', 'npm ci && npm test']);
  });

  it('has the very command that the machine of the project runs', () => {
    const last = textOf('.ci/run').trimEnd().split('\n').at(-1);
    expect(last).toBe(commands[1]);
    accessSync(join(ROOT, '.ci/run'), constants.X_OK);
  });

  it('lists every option of the command, and no other', () => {
    const block = /^const OPTIONS = \{$([\s\S]*?)^\}/m.exec(textOf('src/command/arguments.ts'))![1]!;
    const taken = [...block.matchAll(/^ {2}'?([a-z-]+)'?:/gm)]
      .map(([, name]) => name!)
      .filter((name) => name !== 'help');
    const listed = [...readme.matchAll(/^\| `--([a-z-]+)/gm)].map(([, name]) => name!);
    expect(listed.sort()).toEqual(taken.sort());
  });

  it('names no script that package.json does not have', () => {
    const { scripts } = JSON.parse(textOf('package.json')) as { scripts: Record<string, string> };
    const named = [...`${readme}\n${textOf('DEVELOPERS.md')}`.matchAll(/npm (?:run (?:-s )?)([a-z:]+)/g)];
    const unknown = named.map(([, script]) => script!).filter((script) => !(script in scripts));
    expect(unknown).toEqual([]);
    expect(named.length).toBeGreaterThan(5);
  });

  it('points to no file that is not there', () => {
    const links = ['README.md', 'DEVELOPERS.md'].flatMap((file) =>
      [...textOf(file).matchAll(/\]\((?!https?:)([^)#]+)/g)].map(([, path]) => path!),
    );
    expect(links.length).toBeGreaterThan(0);
    links.forEach((path) => accessSync(join(ROOT, path)));
  });
});
