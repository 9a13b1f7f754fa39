/**
 * `npm run kernels`: compiles each `NAME.as` of `src/` (AssemblyScript) to WebAssembly and writes it beside it as
 * `NAME-code.ts`, so that the program runs without a build. `test/house/kernels.test.ts` fails where one is out of date.
 */
import { globSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';

const ROOT = join(import.meta.dirname, '..');
/** No runtime and no checks of its own: memory is laid out by hand in each. */
const OPTIONS = ['--runtime', 'stub', '--noAssert', '-O3', '--enable', 'simd', '--initialMemory', '8'];

/** The part of the compiler that is used. Its own types would change those of arrays and numbers in the whole project. */
interface Compiler {
  main(
    this: void,
    options: readonly string[],
    files: {
      readFile: (path: string) => string | null;
      writeFile: (path: string, contents: Uint8Array | string) => void;
      listFiles: () => readonly string[];
    },
  ): Promise<{ readonly error: Error | null; readonly stderr: { toString: () => string } }>;
}

async function loadCompiler(): Promise<Compiler> {
  const name = ['assemblyscript', 'asc'].join('/');
  return ((await import(name)) as { readonly default: Compiler }).default;
}

/** Every kernel's source, from the project's root. */
export function kernelSources(): readonly string[] {
  return globSync('src/**/*.as', { cwd: ROOT }).sort();
}

/** The module that a source is compiled into, from the project's root. */
export function codePath(source: string): string {
  return source.replace(/\.as$/, '-code.ts');
}

/**
 * The module's text.
 *
 * @throws {Error} with what the compiler says
 */
export async function compileKernel(source: string): Promise<string> {
  const name = basename(source, '.as');
  let binary: Uint8Array | null = null;
  const { error, stderr } = await (
    await loadCompiler()
  ).main([`${name}.ts`, ...OPTIONS, '--outFile', 'out.wasm'], {
    readFile: (path) => (path === `${name}.ts` ? readFileSync(join(ROOT, source), 'utf8') : null),
    writeFile: (_path, contents) => {
      if (contents instanceof Uint8Array) binary = contents;
    },
    listFiles: () => [],
  });
  if (error !== null || binary === null) throw new Error(`${source}: ${String(stderr.toString())}`);
  const constant = name.replaceAll('-', '_').toUpperCase();
  const lines = (
    Buffer.from(binary)
      .toString('base64')
      .match(/.{1,112}/g) ?? []
  ).map((line) => `  '${line}',`);
  return `// Made from ${name}.as by \`npm run kernels\`.\nexport const ${constant} = [\n${lines.join('\n')}\n].join('');\n`;
}

if (import.meta.main) {
  for (const source of kernelSources()) writeFileSync(join(ROOT, codePath(source)), await compileKernel(source));
}
