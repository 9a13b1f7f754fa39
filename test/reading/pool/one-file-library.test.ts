import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const HOOK = new URL('../../../src/reading/pool/one-file-library.ts', import.meta.url).href;
const CHECK = `
  const whole = await import('@cantoo/pdf-lib');
  const { PDFDocument } = whole;
  const document = await PDFDocument.create();
  document.addPage([300, 200]);
  const loaded = await PDFDocument.load(await document.save());
  const from = import.meta.resolve('@cantoo/pdf-lib');
  console.log(JSON.stringify({ from: from.split('/').pop(), size: loaded.getPage(0).getSize() }));
`;

test('with the hook the object library comes from one file and works as ever', () => {
  const run = (...more: string[]): unknown =>
    JSON.parse(
      execFileSync(process.execPath, [...more, '--input-type=module', '-e', CHECK], {
        cwd: fileURLToPath(new URL('../../../', import.meta.url)),
        encoding: 'utf8',
      }),
    );
  const size = { width: 300, height: 200 };
  expect(run()).toEqual({ from: 'index.js', size });
  expect(run(`--import=${HOOK}`)).toEqual({ from: 'pdf-lib.esm.min.js', size });
});
