import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { exportedFrom, membersOfInterface } from '../../.house/exported.ts';
import { projectFiles, ROOT, textOf } from './project.ts';

const exported = exportedFrom(projectFiles('src/').filter((path) => path.endsWith('.ts')));
const sourced = exported.flatMap((one) => one.sources.map((source) => ({ ...one, source })));
const where = ({ file, name }: { file: string; name: string }) => `${file} ${name}`;

/** A numbered clause, published paper or confessed lack of one; or another function that has such a source. */
function isFirm(source: string): boolean {
  const as = /^as (\w+)/.exec(source)?.[1];
  if (as !== undefined) return sourced.some((other) => other.name === as && isFirm(other.source));
  return (
    /\b(ISO|IEC|RFC|CIE|FIPS|ITU-T|TIFF|PNG|PDF|WCAG)\b[^,;]*\d/.test(source) ||
    /\(?(1[89]|20)\d\d\b/.test(source) ||
    /from memory|common practice\b.*\bno source/.test(source)
  );
}

describe('sources of formulas', () => {
  it('name a clause or a paper, or admit that there is none', () => {
    expect(sourced.filter(({ source }) => !isFirm(source)).map((one) => `${where(one)}: ${one.source}`)).toEqual([]);
    expect(sourced.length).toBeGreaterThan(5);
  });

  it('lead to checks that exist', () => {
    const paths = sourced.flatMap((one) =>
      [...one.source.matchAll(/\b(?:test|src)\/[\w./-]*\w/g)].map(([path]) => ({ at: where(one), path })),
    );
    expect(paths.filter(({ path }) => !existsSync(join(ROOT, path)))).toEqual([]);
    expect(paths.length).toBeGreaterThan(3);
  });

  it('cover every folder of published values', () => {
    const folders = new Set(
      projectFiles('test/standards/')
        .filter((path) => path.endsWith('.json'))
        .map((path) => path.split('/')[2]!),
    );
    const code = projectFiles('src/').map(textOf).join('\n');
    // SHA-256 is the runtime's own: nobody here wrote it, so no line of src/ has it as its source.
    folders.delete('fips180');
    expect([...folders].filter((folder) => !code.includes(`test/standards/${folder}`))).toEqual([]);
  });
});

describe('docstrings', () => {
  it('name no argument that the function does not have', () => {
    const drifted = exported.flatMap((one) =>
      one.params
        .filter((param) => !one.parameters.includes(param.split('.').at(-1)!))
        .map((param) => ({ at: where(one), param })),
    );
    expect(drifted).toEqual([]);
  });

  it('say so where a function refuses in its own lines', () => {
    const silent = exported.filter(({ refuses, throws }) => refuses && throws.length === 0);
    expect(silent.map(where)).toEqual([]);
  });

  it('name the kind of each refusal they announce, or the function it comes from', () => {
    const kind = `(${membersOfInterface('src/model/refusal.ts', 'RefusalDetails').join('|')})`;
    const byKind = new RegExp(`^\\{Refusal\\} ${kind}((, | or | and )${kind})*: .`);
    const borrowed = ({ throws }: { throws: readonly string[] }) =>
      throws.flatMap((text) => /^\{Refusal\} as (.+)/.exec(text)?.[1]?.match(/`(\w+)`/g) ?? []);
    const vague = exported.flatMap((one) =>
      one.throws
        .filter(
          (text) => text.startsWith('{Refusal}') && !byKind.test(text) && borrowed({ throws: [text] }).length === 0,
        )
        .map((text) => `${where(one)}: ${text}`),
    );
    expect(vague).toEqual([]);
    const known = new Set(exported.filter(({ throws }) => throws.length > 0).map(({ name }) => `\`${name}\``));
    expect(exported.flatMap(borrowed).filter((name) => !known.has(name))).toEqual([]);
  });
});
