import { useQuery } from '@tanstack/react-query';
import type { KnownFinding } from '../book/queries.ts';
import { words } from '../words/index.ts';
import type { Shown } from './controls.tsx';
import { boxOf, type Laid, type LaidPage, type Side } from './laid.ts';
import { layoutQuery } from './layout-query.ts';
import type { Place } from './pan-zoom.ts';

interface LinesGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly side: Side;
  readonly laid: Laid;
  readonly place: Place;
  readonly findings: readonly KnownFinding[];
  readonly chosen: string | null;
  readonly shown: Pick<Shown, 'hasLines' | 'hasWindows'>;
}

/** What type and pictures that matter keep from the knife. Common practice, no source. */
const SAFE_MM = 5;

/** Over the pages, in their own mm: what the knife leaves, the pictures’ windows, each finding and how far a crop moved. */
export function Lines({ titleId, fileId, side, laid, place, findings, chosen, shown }: LinesGiven) {
  const { scale, x, y } = place;
  return (
    <svg className="look-lines" aria-hidden="true">
      {(shown.hasLines || shown.hasWindows) &&
        laid.pages.map((page) => (
          <PageLines
            key={page.revision.pageNumber}
            titleId={titleId}
            fileId={fileId}
            page={page}
            side={side}
            place={place}
            shown={shown}
          />
        ))}
      <g transform={`translate(${x} ${y}) scale(${scale})`}>
        {findings.map((one) => {
          const box = boxOf(laid, one, side);
          if (box === null) return null;
          const { id, weight } = one;
          return <rect key={id} className={`finding-box ${weight}${id === chosen ? ' chosen' : ''}`} {...box} />;
        })}
      </g>
      {findings.map((one) => (
        <CropMove key={one.id} one={one} side={side} laid={laid} place={place} />
      ))}
    </svg>
  );
}

interface PageLinesGiven extends Pick<LinesGiven, 'titleId' | 'fileId' | 'side' | 'place' | 'shown'> {
  readonly page: LaidPage;
}

function PageLines({ titleId, fileId, side, page, place, shown }: PageLinesGiven) {
  const number = page[side]?.pageNumber;
  const { data: layout } = useQuery({ ...layoutQuery(titleId, fileId, number ?? 0), enabled: number !== undefined });
  const { width, height } = page.size;
  const inner = { width: width - 2 * SAFE_MM, height: height - 2 * SAFE_MM };
  const { scale } = place;
  const [x, y] = [place.x + page.x * scale, place.y];
  return (
    <>
      <g transform={`translate(${x} ${y}) scale(${scale})`}>
        {shown.hasLines && (
          <>
            {layout && <rect className="bleed-line" {...layout.boxes.bleed} />}
            <rect className="trim-line" width={width} height={height} />
            {inner.width > 0 && inner.height > 0 && (
              <rect className="safe-line" x={SAFE_MM} y={SAFE_MM} width={inner.width} height={inner.height} />
            )}
          </>
        )}
        {shown.hasWindows &&
          layout?.pictures.map(({ window }, index) => <rect key={index} className="window-line" {...window} />)}
      </g>
      {shown.hasWindows &&
        layout?.pictures.map(({ window, effectivePpi }, index) => (
          <text key={index} className="window-says" x={x + window.x * scale + 6} y={y + window.y * scale + 18}>
            {words.look.window(window.width, window.height, effectivePpi)}
          </text>
        ))}
    </>
  );
}

interface CropGiven {
  readonly one: KnownFinding;
  readonly side: Side;
  readonly laid: Laid;
  readonly place: Place;
}

/** From where the middle of a picture lay to where it lies, and by how much. */
function CropMove({ one, side, laid, place }: CropGiven) {
  const { finding } = one;
  if (finding.kind !== 'crop-altered' && finding.kind !== 'picture-moved') return null;
  const box = boxOf(laid, one, side);
  if (box === null) return null;
  const { shiftXmm, shiftYmm } = finding.measured;
  const at = (mm: number, from: number): number => from + mm * place.scale;
  const [midX, midY] = [at(box.x + box.width / 2, place.x), at(box.y + box.height / 2, place.y)];
  const [endX, endY] = [midX + shiftXmm * place.scale, midY + shiftYmm * place.scale];
  return (
    <g className="crop-move">
      <line x1={midX} y1={midY} x2={endX} y2={endY} />
      <circle cx={midX} cy={midY} r="4" />
      <text x={endX + 8} y={endY - 8}>
        {words.look.moved(shiftXmm, shiftYmm)}
      </text>
    </g>
  );
}
