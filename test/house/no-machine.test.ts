import { homedir, hostname } from 'node:os';
import { describe, expect, it } from 'vitest';
import { projectFiles, ROOT, textOf } from './project.ts';

// Written in pieces, so that this file does not break its own rule. A folder of the project may bear such a name too:
// only where the path starts with it is it the machine's.
const FORBIDDEN = [['work'], ['tmp'], ['root'], ['home'], ['Users'], ROOT.split('/').slice(1, -1)]
  .map((names) => new RegExp(`(?<![\\w.)}*\\]@-])/${names.join('/')}/`))
  .concat(new RegExp(['farm', '(?=[a-z])'].join('-')));

const BINARY = /\.(png|jpe?g|icc|pdf|ttf|otf|woff2?|tiff?|bin)$/;

describe('the project on another machine', () => {
  const files = projectFiles().filter((path) => !BINARY.test(path));

  it('names no folder of the machine it was written on', () => {
    const named = files.flatMap((path) => {
      const text = textOf(path);
      return FORBIDDEN.flatMap((piece) => piece.exec(text) ?? []).map((piece) => `${path}: ${piece}`);
    });
    expect(named).toEqual([]);
  });

  it('names neither its host nor anybody’s home', () => {
    // Short or plain host names are words as well; only one that could be nothing else is looked for.
    const telling = [hostname(), homedir()].filter((name) => name.length >= 8 && /[\d/]/.test(name));
    const named = files.filter((path) => telling.some((name) => textOf(path).includes(name)));
    expect(named).toEqual([]);
  });

  it('installs from whatever registry npm is set to: the lock names no host', () => {
    expect(textOf('package-lock.json')).not.toMatch(/"resolved": "https?:/);
  });
});
