import type { StageName } from '../../src/model/index.ts';
import { Tag } from '../pieces/notice.tsx';
import type { Tone } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';

/** How far along the thread each stage is: dummy signed, compared, decided, released. */
const STITCHES = 4;

const SEWN: Readonly<Record<StageName, number>> = {
  empty: 0,
  reading: 0,
  'dummy-to-sign': 0,
  failed: 0,
  'dummy-in-force': 1,
  comparing: 1,
  'findings-open': 2,
  agrees: 3,
  'release-to-sign': 3,
  released: 4,
};

const TONES: Partial<Readonly<Record<StageName, Tone>>> = {
  failed: 'stop',
  'findings-open': 'look',
  'dummy-to-sign': 'look',
  'release-to-sign': 'look',
  reading: 'note',
  comparing: 'note',
  'dummy-in-force': 'well',
  agrees: 'well',
  released: 'well',
};

/** Where a part stands: a word, and as many stitches sewn as steps are behind it. */
export function StageTag({ stage, open }: { readonly stage: StageName; readonly open: number }) {
  const tone = TONES[stage];
  return (
    <span className="stage">
      <svg className="stitches" viewBox="0 0 64 8" aria-hidden="true">
        {Array.from({ length: STITCHES }, (_, index) => (
          <line
            key={index}
            className={index < SEWN[stage] ? 'sewn' : ''}
            x1={index * 16 + 2}
            x2={index * 16 + 13}
            y1="4"
            y2="4"
          />
        ))}
      </svg>
      <Tag {...(tone === undefined ? {} : { tone })}>{words.titles.stage(stage, open)}</Tag>
    </span>
  );
}
