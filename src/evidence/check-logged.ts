import { checked, namesIn, type EvidenceCheck, type Findings } from './evidence-check.ts';

/** Files and reports: that an entry of the log names their bytes, and that files bear the hash that they are named by. */
export function checkLogged({ pack, found, entries }: Findings): readonly EvidenceCheck[] {
  const named = new Set([...entries.values()].flatMap(({ says }) => says.subjects.map(({ sha256 }) => sha256)));
  const files = namesIn(pack, 'files', '');
  const reports = namesIn(pack, 'reports', '/report.json');
  return [...files, ...reports].map((name) => {
    const sha256 = found.get(name) ?? '';
    const isNamed = !name.startsWith('files/') || name.startsWith(`files/${sha256}.`);
    return checked(name, 'logged', isNamed && named.has(sha256), {
      expected: 'bytes that an entry of the log names, and that its own name names',
      found: `SHA-256 ${sha256}`,
    });
  });
}
