/** What the service tells of a title, by its names. */
export const NEWS = [
  'received',
  'progress',
  'read',
  'findings',
  'compared',
  'pictures',
  'stumbled',
  'stated',
  'remarked',
  'folded',
  'anew',
] as const;

/** One piece of news. */
export interface News {
  readonly kind: (typeof NEWS)[number];
  readonly part: string | null;
  readonly file: string | null;
  readonly data: Readonly<Record<string, unknown>>;
}
