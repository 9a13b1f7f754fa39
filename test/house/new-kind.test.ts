import { relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { ROOT, textOf } from './project.ts';

const NAMES = /Finding|Measured/;

/** Files of src/ that do not compile once the model has a further kind of finding. */
function filesAwareOfKinds(): string[] {
  const config = ts.getParsedCommandLineOfConfigFile(
    `${ROOT}tsconfig.json`,
    {},
    {
      ...ts.sys,
      onUnRecoverableConfigFileDiagnostic: () => undefined,
    },
  )!;
  const host = ts.createCompilerHost(config.options);
  const read = host.getSourceFile.bind(host);
  host.getSourceFile = (file, version) => {
    if (!file.endsWith('/src/model/finding.ts')) return read(file, version);
    const text = textOf('src/model/finding.ts');
    const more = text.replace("readonly 'page-moved'", "readonly 'page-dyed': { readonly inkMm: Mm };\n  $&");
    expect(more).not.toBe(text);
    return ts.createSourceFile(file, more, version);
  };
  const files = config.fileNames.filter((file) => file.startsWith(`${ROOT}src/`));
  const program = ts.createProgram(files, config.options, host);
  // a file that never names findings cannot know their kinds; checking the others takes a third of the time
  const aware = program.getSourceFiles().filter(({ fileName, text }) => fileName.includes('/src/') && NAMES.test(text));
  const broken = aware
    .flatMap((file) => program.getSemanticDiagnostics(file))
    .filter(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, ' ').includes('page-dyed'))
    .flatMap(({ file }) => (file === undefined ? [] : [file.fileName]));
  return [...new Set(broken)].map((file) => relative(ROOT, file)).sort();
}

describe('a new kind of finding', () => {
  it('fails to compile in exactly the files that DEVELOPERS.md lists, until each of them knows it', () => {
    const chapter = textOf('DEVELOPERS.md')
      .split('\n## ')
      .find((part) => part.startsWith('A new kind of finding'))!;
    const listed = [...chapter.matchAll(/^\| `(src\/[^`]+)` \|/gm)].map(([, path]) => path!);
    expect(filesAwareOfKinds()).toEqual(listed.sort());
  }, 120_000);
});
