import type { Instant } from './instant.ts';
import type { ReleasedSide } from './released-side.ts';

/** A SHA-256 in 64 lower-case hexadecimal digits. */
export type Sha256 = string;

/** The two sides of a title. */
export type Party = 'publisher' | 'printer';

/** Something that has a lasting id and a name that people know it by. */
export interface Named {
  readonly id: string;
  readonly name: string;
}

/** Who signs: the person, the organisation and side, and the SHA-256 of the certificate that the signature is made with. */
export interface Signer {
  readonly party: Party;
  readonly name: string;
  readonly organisation: string;
  readonly certificate: Sha256;
}

/** A head of the log as the signer last saw it: whose log, how many entries, and the root of its tree. */
export interface SeenHead {
  readonly origin: string;
  readonly size: number;
  readonly root: Sha256;
}

/** A file as it is signed: the hash of its bytes, their number, and the content hash of each page in the file's order. */
export interface SignedFile {
  readonly sha256: Sha256;
  readonly bytes: number;
  readonly pages: readonly Sha256[];
}

/** What a finding is to become. */
export type Decision = 'agreed' | 'to-be-put-right';

/** On whose account a difference goes. */
export type Account = 'authors-alteration' | 'printers-error' | 'shared' | 'not-settled';

/** A finding as it is ruled on: its id in the report, and the sentence that the signer read there. */
export interface RuledFinding {
  readonly id: string;
  readonly says: string;
}

/** A certificate of a person, by hash and by the short form that is read aloud. */
export interface NamedCertificate {
  readonly sha256: Sha256;
  readonly fingerprint: string;
}

/** What each kind of statement is about. The list is closed. */
export interface StatementSubjects {
  /** The signer has compared the fingerprint with the other party and takes the certificate as that person's. */
  readonly 'key-confirmation': NamedCertificate & {
    readonly party: Party;
    readonly name: string;
    readonly organisation: string;
  };
  /** The signer takes the dummy as the contract. */
  readonly 'sign-off': { readonly part: Named; readonly dummy: SignedFile };
  /** The signer rules on findings of one report, all in the same way. */
  readonly ruling: {
    readonly part: Named;
    readonly dummy: Sha256;
    readonly revision: Sha256;
    readonly report: Sha256;
    readonly findings: readonly RuledFinding[];
    readonly decision: Decision;
    readonly account: Account;
  };
  /** The signer lets a plates input be made into plates; it rests on a report and on rulings, named by their hashes. */
  readonly release: {
    readonly part: Named;
    readonly dummy: Sha256;
    readonly platesInput: SignedFile;
    readonly report: Sha256;
    readonly rulings: readonly Sha256[];
    /** Of imposed sheets: every side by what prints it. Absent where single pages are released. */
    readonly sheets?: readonly ReleasedSide[];
  };
  /** The signer's own certificate is no longer to be trusted from a moment on. */
  readonly revocation: NamedCertificate & { readonly from: Instant; readonly reason: string };
  /** A dummy that is not in force is taken back. */
  readonly withdrawal: { readonly part: Named; readonly dummy: Sha256; readonly reason: string };
  /** A dummy in force gives way to a new one, once both have signed this. */
  readonly replacement: {
    readonly part: Named;
    readonly inForce: Sha256;
    readonly dummy: SignedFile;
    readonly reason: string;
  };
}

/** The name of a kind of statement. */
export type StatementKind = keyof StatementSubjects;

/** A statement of one kind. */
export interface StatementOf<K extends StatementKind> {
  readonly type: 'witnessleaf-statement/1';
  readonly kind: K;
  /** 128 bits of chance in hexadecimal: no statement is taken twice. */
  readonly id: string;
  readonly title: Named;
  readonly signer: Signer;
  /** When it is signed; the signature says the same second. */
  readonly at: Instant;
  readonly head: SeenHead;
  readonly subject: StatementSubjects[K];
}

/** A sentence that a party signs. */
export type Statement = { [K in StatementKind]: StatementOf<K> }[StatementKind];
