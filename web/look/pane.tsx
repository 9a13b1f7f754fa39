import type { KnownFinding } from '../book/queries.ts';
import { words } from '../words/index.ts';
import type { Shown } from './controls.tsx';
import { placeOf, type Laid, type Side } from './laid.ts';
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

/** A window on the pages of one side, or on those of the file laid over the dummy’s. */
export function Pane(given: PaneGiven) {
  const { titleId, files, laid, under, isOver, place, pane, shown, findings, chosen, onPlace, onPoint } = given;
  const hand = useHand<HTMLDivElement>({ page: laid.size, onPlace, onPoint });
  const numbers = laid.pages.flatMap((page) => page[under]?.pageNumber ?? []);
  const side = isOver ? 'revision' : under;
  return (
    <div className="pane" ref={hand} style={{ height: pane.height }}>
      <div className="pane-bed">
        <Sheets laid={laid} place={place} shown={shown} side={under} />
        {isOver && (
          <Sheets
            laid={laid}
            place={place}
            shown={shown}
            side="revision"
            {...(shown.way === 'fade' ? { opacity: shown.fade } : {})}
            {...(shown.way === 'edge' ? { from: shown.edge * pane.width } : {})}
            isDifference={shown.way === 'difference'}
          />
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

interface SheetsGiven extends Pick<PaneGiven, 'laid' | 'place' | 'shown'> {
  readonly side: Side;
  readonly opacity?: number;
  readonly from?: number | undefined;
  readonly isDifference?: boolean;
}

/** The pages of one side as they lie. */
function Sheets({ laid, place, shown, side, opacity = 1, from, isDifference = false }: SheetsGiven) {
  return laid.pages.map((laidPage) => {
    const page = laidPage[side];
    return page === null ? null : (
      <PageLayer
        key={laidPage.revision.pageNumber}
        of={page}
        page={laidPage.size}
        place={placeOf(laidPage, place)}
        alt={words.look[side]([page.pageNumber])}
        mostPixels={shown.isAlike ? ALIKE_PIXELS : undefined}
        opacity={opacity}
        from={from}
        isDifference={isDifference}
      />
    );
  });
}
