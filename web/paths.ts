/** The address of every view. A view of one thing names it by its id; the title comes first, for the way back up. */
export const paths = {
  home: '/',
  signIn: '/sign-in',
  invitation: '/invitation',
  newTitle: '/titles/new',
  people: '/people',
  running: '/running',
  account: '/account',
  keys: '/keys',
  /** Anybody checks an evidence pack there, without an account. */
  verify: '/verify',
  title: (titleId: string) => `/titles/${titleId}`,
  sight: (titleId: string) => `/titles/${titleId}/sight`,
  record: (titleId: string) => `/titles/${titleId}/record`,
  /** Keys of both sides on a title: fingerprints, confirmations. */
  titleKeys: (titleId: string) => `/titles/${titleId}/keys`,
  /** What can be proved: page histories, packs. */
  evidence: (titleId: string) => `/titles/${titleId}/evidence`,
  part: (titleId: string, partId: string) => `/titles/${titleId}/parts/${partId}`,
  file: (titleId: string, fileId: string) => `/titles/${titleId}/files/${fileId}`,
  /** All pages as spreads, the dummy against the file. */
  book: (titleId: string, fileId: string) => `/titles/${titleId}/files/${fileId}/book`,
  /** The close look at one page of a file. */
  look: (titleId: string, fileId: string, pageNumber: number | string) =>
    `/titles/${titleId}/files/${fileId}/pages/${pageNumber}`,
  /** The sides of imposed sheets. */
  sheets: (titleId: string, fileId: string) => `/titles/${titleId}/files/${fileId}/sheets`,
  findings: (titleId: string, fileId: string) => `/titles/${titleId}/files/${fileId}/findings`,
  finding: (titleId: string, fileId: string, findingId: string) =>
    `/titles/${titleId}/files/${fileId}/findings/${findingId}`,
  /** Signing a dummy off. */
  sign: (titleId: string, fileId: string) => `/titles/${titleId}/files/${fileId}/sign`,
  release: (titleId: string, fileId: string) => `/titles/${titleId}/files/${fileId}/release`,
} as const;
