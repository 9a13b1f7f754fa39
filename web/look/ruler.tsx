import { words } from '../words/index.ts';

const STEPS_MM = [0.1, 0.5, 1, 5, 10, 50, 100] as const;
const ROOM_PX = 220;

/** A length that can be compared with what lies over it: the longest round one that fits. */
export function Ruler({ scale }: { readonly scale: number }) {
  const mm = STEPS_MM.findLast((step) => step * scale <= ROOM_PX) ?? STEPS_MM[0];
  return (
    <div className="ruler" role="img" aria-label={words.look.ruler(mm)}>
      <span className="ruler-line" style={{ width: mm * scale }} />
      <span>{words.look.mm(mm)}</span>
    </div>
  );
}
