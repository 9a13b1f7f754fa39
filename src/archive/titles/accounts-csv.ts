import type { Account, Decision } from '../../model/index.ts';
import type { AccountLine } from './accounts.ts';

const ACCOUNTS: Readonly<Record<Account, string>> = {
  'authors-alteration': "author's alteration",
  'printers-error': "printer's error",
  shared: 'shared',
  'not-settled': 'not settled',
};
const DECISIONS: Readonly<Record<Decision, string>> = { agreed: 'agreed', 'to-be-put-right': 'to be put right' };

const HEADINGS = ['part', 'page', 'kind', 'finding', 'file', 'sent by', 'decision', 'account'].concat([
  "publisher's statement",
  "printer's statement",
]);

/**
 * The accounts as a table that spreadsheets and invoicing programs read: fields by commas, lines ended by CR LF.
 *
 * @source RFC 4180 2; a text that a spreadsheet would take for a formula is led by an apostrophe (common practice)
 */
export function formatAccountsCsv(lines: readonly AccountLine[]): string {
  const rows = lines.map(({ partName, page, kind, says, fileName, sender, decision, account, statements }) => [
    partName,
    page === null ? '' : String(page),
    kind,
    says,
    fileName,
    sender,
    DECISIONS[decision],
    ACCOUNTS[account],
    ...statements,
  ]);
  return [HEADINGS, ...rows].map((row) => `${row.map(fieldOf).join(',')}\r\n`).join('');
}

function fieldOf(text: string): string {
  const plain = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
