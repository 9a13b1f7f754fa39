import type { ReactNode } from 'react';

/** How grave something is; each has a shape and a word beside its colour. */
export type Tone = 'stop' | 'look' | 'note' | 'well';

interface NoticeGiven {
  readonly tone: Tone;
  readonly title: string;
  /** True: it came just now and is read out. */
  readonly isNews?: boolean;
  readonly children?: ReactNode;
}

/** Something to know before going on: what happened, what is safe, what to do next. */
export function Notice({ tone, title, isNews = false, children }: NoticeGiven) {
  return (
    <div className={`notice tone-${tone}`} role={isNews ? (tone === 'stop' ? 'alert' : 'status') : undefined}>
      <strong>
        <Mark tone={tone} /> {title}
      </strong>
      {children}
    </div>
  );
}

const MARKS: Readonly<Record<Tone, string>> = { stop: '■', look: '▲', note: '●', well: '✓' };

/** The shape of a tone. */
export function Mark({ tone }: { readonly tone: Tone }) {
  return <span aria-hidden="true">{MARKS[tone]}</span>;
}

/** A state in a word or two, with its shape. */
export function Tag({ tone, children }: { readonly tone?: Tone; readonly children: ReactNode }) {
  return (
    <span className={tone === undefined ? 'tag' : `tag tone-${tone}`}>
      {tone !== undefined && <Mark tone={tone} />}
      {children}
    </span>
  );
}
