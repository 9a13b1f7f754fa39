import type {
  Instant,
  Named,
  NamedCertificate,
  ReleasedPlate,
  ReleasedSide,
  RuledFinding,
  SeenHead,
  Sha256,
  SignedFile,
  Signer,
  StatementKind,
  StatementSubjects,
} from '../model/index.ts';
import { parseFingerprint } from './fingerprint.ts';
import { countForm, listForm, objectForm, refuseForm, textForm, wordForm, type Form } from './form.ts';
import { dateOf } from './moment.ts';
import { requireText } from './text.ts';

/** More pages, findings or rulings than one book has. */
const MOST = 100_000;

const sha256: Form<Sha256> = textForm((text) => /^[0-9a-f]{64}$/.test(text), '64 hexadecimal digits');

/** A line that people read; the limits are our own. */
const line =
  (longest: number): Form<string> =>
  (value, pointer) =>
    typeof value === 'string' && value.length <= longest
      ? requireText(value, pointer)
      : refuseForm(pointer, `text of at most ${longest} characters`, value);

const instant: Form<Instant> = (value, pointer) => {
  if (typeof value !== 'string') return refuseForm(pointer, 'a moment like 2026-11-25T10:00:00Z', value);
  dateOf(value, pointer);
  return value;
};

const fingerprint: Form<string> = (value, pointer) =>
  typeof value === 'string' && parseFingerprint(value) === value ? value : refuseForm(pointer, 'a fingerprint', value);

const identifier = textForm((text) => /^[A-Za-z0-9._~-]{1,100}$/.test(text), 'an id of letters, digits and . _ ~ -');
const party = wordForm(['publisher', 'printer']);
const named = objectForm<Named>({ id: identifier, name: line(200) });
const file = objectForm<SignedFile>({
  sha256,
  bytes: countForm,
  pages: listForm(sha256, { atLeast: 1, atMost: MOST }),
});
const certificate = { sha256, fingerprint } satisfies { readonly [Name in keyof NamedCertificate]: Form<string> };

const release = {
  part: named,
  dummy: sha256,
  platesInput: file,
  report: sha256,
  rulings: listForm(sha256, { atLeast: 0, atMost: MOST }),
};
const sheets = listForm(
  objectForm<ReleasedSide>({
    sheet: countForm,
    side: wordForm(['front', 'back', 'both']),
    plates: listForm(objectForm<ReleasedPlate>({ ink: line(200), sha256 }), { atLeast: 1, atMost: MOST }),
  }),
  { atLeast: 1, atMost: MOST },
);

/** The form of each kind's subject; a kind that is added to the model fails to compile here. */
const SUBJECTS: { readonly [K in StatementKind]: Form<StatementSubjects[K]> } = {
  'key-confirmation': objectForm({ ...certificate, party, name: line(100), organisation: line(100) }),
  'sign-off': objectForm({ part: named, dummy: file }),
  ruling: objectForm({
    part: named,
    dummy: sha256,
    revision: sha256,
    report: sha256,
    findings: listForm(objectForm<RuledFinding>({ id: identifier, says: line(2000) }), { atLeast: 1, atMost: MOST }),
    decision: wordForm(['agreed', 'to-be-put-right']),
    account: wordForm(['authors-alteration', 'printers-error', 'shared', 'not-settled']),
  }),
  release: (value, pointer) => {
    const hasSheets = typeof value === 'object' && value !== null && Object.hasOwn(value, 'sheets');
    return hasSheets ? objectForm({ ...release, sheets })(value, pointer) : objectForm(release)(value, pointer);
  },
  revocation: objectForm({ ...certificate, from: instant, reason: line(2000) }),
  withdrawal: objectForm({ part: named, dummy: sha256, reason: line(2000) }),
  replacement: objectForm({ part: named, inForce: sha256, dummy: file, reason: line(2000) }),
};

const KINDS = Object.keys(SUBJECTS) as StatementKind[];

const outer = objectForm<{ kind: StatementKind; subject: StatementSubjects[StatementKind] } & Record<string, unknown>>;

/** The form of a whole statement; its kind says what form its subject has. */
export const statementForm: Form<unknown> = (value, pointer) => {
  const kind = wordForm(KINDS)((value as { kind?: string } | null)?.kind, `${pointer}/kind`);
  return outer({
    type: wordForm(['witnessleaf-statement/1']),
    kind: wordForm([kind]),
    id: textForm((text) => /^[0-9a-f]{32}$/.test(text), '32 hexadecimal digits'),
    title: named,
    signer: objectForm<Signer>({ party, name: line(100), organisation: line(100), certificate: sha256 }),
    at: instant,
    head: objectForm<SeenHead>({ origin: line(200), size: countForm, root: sha256 }),
    subject: SUBJECTS[kind],
  })(value, pointer);
};
