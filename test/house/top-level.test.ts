import { describe, expect, it } from 'vitest';
import { projectFiles } from './project.ts';

const FILES = ['DEVELOPERS.md', 'LICENSE', 'README.md', 'package-lock.json', 'package.json', 'tsconfig.json'];
const FOLDERS = ['demo', 'src', 'storage', 'test', 'web'];

describe('the top of the project', () => {
  it('shows these eleven entries and no others beside dot-files', () => {
    const visible = projectFiles()
      .map((path) => path.split('/')[0]!)
      .filter((entry) => !entry.startsWith('.'));
    expect([...new Set(visible)].sort()).toEqual([...FILES, ...FOLDERS].sort());
  });
});
