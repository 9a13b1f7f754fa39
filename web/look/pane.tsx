import { useId } from 'react';
import type { KnownFinding } from '../book/queries.ts';
import { words } from '../words/index.ts';
import type { Shown } from './controls.tsx';
import { placeOf, type Laid, type LaidPage, type Side } from './laid.ts';
import { Lines } from './lines.tsx';
import { PageLayer } from './page-layer.tsx';
import type { Place, Size } from './pan-zoom.ts';
import { useHand } from './use-hand.ts';

interface PaneGiven {
  readonly titleId: string;
  /** The file of either side. */
  readonly files: Readonly<Record<Side, string>>;
  readonly laid: Laid;
  readonly under: Side;
  /** Whether the file is laid over the dummy. */
  readonly isOver: boolean;
  readonly place: Place;
  readonly pane: Size;
  readonly shown: Shown;
  readonly findings: readonly KnownFinding[];
  readonly chosen: string | null;
  readonly onPlace: (change: (place: Place, window: Size) => Place) => void;
  readonly onPoint: (at: { readonly x: number; readonly y: number } | null) => void;
}

/** At a like resolution: about 100 pixels an inch of a page of 240 mm. */
const ALIKE_PIXELS = 640;

/** One ink, the fuller the further two colours lie apart; what the softness of a dummy alone makes stays without. */
const INK_BY_DIFFERENCE = '0 0 0 0 0.85  0 0 0 0 0.2  0 0 0 0 0.1  2 2 2 0 -0.4';

/** A window on the pages of one side, or on those of the file laid over the dummy’s. */
export function Pane(given: PaneGiven) {
  const { titleId, files, laid, under, isOver, place, pane, shown, findings, chosen, onPlace, onPoint } = given;
  const hand = useHand<HTMLDivElement>({ page: laid.size, onPlace, onPoint });
  const numbers = laid.pages.flatMap((page) => page[under]?.pageNumber ?? []);
  const side = isOver ? 'revision' : under;
  return (
    <div className="pane" ref={hand} style={{ height: pane.height }}>
      <div className="pane-bed">
        <Sheets laid={laid} place={place} pane={pane} shown={shown} side={under} />
        {isOver && (
          <Sheets
            laid={laid}
            place={place}
            pane={pane}
            shown={shown}
            side="revision"
            {...(shown.way === 'fade' ? { opacity: shown.fade } : {})}
            {...(shown.way === 'edge' ? { from: shown.edge * pane.width } : {})}
            isDifference={shown.way === 'difference'}
          />
        )}
        {shown.hasDifference && shown.way !== 'difference' && (
          <DifferenceOver laid={laid} place={place} pane={pane} shown={shown} />
        )}
        <Lines
          titleId={titleId}
          fileId={files[side]}
          side={side}
          laid={laid}
          place={place}
          findings={findings}
          chosen={chosen}
          shown={shown}
        />
        {isOver && shown.way === 'edge' && (
          <span className="edge-line" style={{ insetInlineStart: shown.edge * pane.width }} />
        )}
      </div>
      <span className="pane-name">{isOver ? words.look.ways[shown.way] : words.look[under](numbers)}</span>
    </div>
  );
}

interface SheetsGiven extends Pick<PaneGiven, 'laid' | 'place' | 'pane' | 'shown'> {
  readonly side: Side;
  readonly opacity?: number;
  readonly from?: number | undefined;
  readonly isDifference?: boolean;
}

/** What differs, in ink over whatever lies there; where nothing does, it lets everything through. */
function DifferenceOver({ laid, place, pane, shown }: Pick<PaneGiven, 'laid' | 'place' | 'pane' | 'shown'>) {
  const id = useId();
  return (
    <>
      <svg className="unseen" aria-hidden="true">
        <filter id={id} colorInterpolationFilters="sRGB">
          <feColorMatrix values={INK_BY_DIFFERENCE} />
        </filter>
      </svg>
      {laid.pages.map((page) => {
        if (page.dummy === null) return null;
        const one: Laid = { ...laid, pages: [page] };
        const style = { filter: `url("#${id}")`, clipPath: withinPage(page, place, pane) };
        return (
          <div key={page.revision.pageNumber} className="difference-over" aria-hidden="true" style={style}>
            <Sheets laid={one} place={place} pane={pane} shown={shown} side="dummy" />
            <Sheets laid={one} place={place} pane={pane} shown={shown} side="revision" isDifference />
          </div>
        );
      })}
    </>
  );
}

/** All of a page but a hair at its edges, which the screen’s pixels share with what lies around. */
function withinPage(page: LaidPage, place: Place, pane: Size): string {
  const { x, y, scale } = placeOf(page, place);
  const { width, height } = page.size;
  const [right, bottom] = [pane.width - x - width * scale, pane.height - y - height * scale];
  return `inset(${[y, right, bottom, x].map((px) => `${px + 1}px`).join(' ')})`;
}

/** The pages of one side as they lie. */
function Sheets({ laid, place, pane, shown, side, opacity = 1, from, isDifference = false }: SheetsGiven) {
  return laid.pages.map((laidPage) => {
    const page = laidPage[side];
    return page === null ? null : (
      <PageLayer
        key={laidPage.revision.pageNumber}
        of={page}
        page={laidPage.size}
        place={placeOf(laidPage, place)}
        pane={pane}
        alt={words.look[side]([page.pageNumber])}
        mostPixels={shown.isAlike ? ALIKE_PIXELS : undefined}
        opacity={opacity}
        from={from}
        isDifference={isDifference}
      />
    );
  });
}
