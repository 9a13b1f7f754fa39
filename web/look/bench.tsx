import { useState } from 'react';
import type { KnownFinding } from '../book/queries.ts';
import { useWidth } from '../pieces/use-width.ts';
import { words } from '../words/index.ts';
import { Controls } from './controls.tsx';
import type { Shown } from './controls.tsx';
import { Loupe } from './loupe.tsx';
import { PageFindings } from './page-findings.tsx';
import { boxOf, pageAt, type Laid } from './laid.ts';
import { Pane } from './pane.tsx';
import { onBox, wholePage, zoomed } from './pan-zoom.ts';
import type { Place, Size } from './pan-zoom.ts';
import { Ruler } from './ruler.tsx';
import { useKeys } from './use-keys.ts';

interface BenchGiven {
  readonly titleId: string;
  readonly fileId: string;
  /** Of the dummy; null: these pages are held against none. */
  readonly dummyFile: string | null;
  readonly laid: Laid;
  readonly findings: readonly KnownFinding[];
}

const said = words.look;
const STEP = 1.4;
/** From this width on there is room for two windows beside each other; the style sheet says the same. */
const TWO_WIDE = 640;
const LEAST_HEIGHT = 320;
const PLAIN = { hasDifference: false, hasLines: false, hasWindows: false, isAlike: false };
/** Of the window's height: what the pages may take, so that what is said of them stays in sight. */
const SHARE = 0.72;

/** Two pages under one hand: moved and brought nearer together, laid against each other in several ways. */
export function Bench({ titleId, fileId, dummyFile, laid, findings }: BenchGiven) {
  const { size } = laid;
  const hasDummy = dummyFile !== null;
  const [of, width] = useWidth<HTMLDivElement>();
  const [shown, setShown] = useState<Shown>({ way: 'beside', fade: 0.5, edge: 0.5, ...PLAIN });
  const [isHeld, setHeld] = useState(false);
  const [moved, setMoved] = useState<{ readonly to: Place; readonly in: Size } | null>(null);
  const [chosen, setChosen] = useState<string | null>(null);
  const [point, setPoint] = useState<{ readonly x: number; readonly y: number } | null>(null);
  const isBeside = hasDummy && shown.way === 'beside';
  const isNarrow = width < TWO_WIDE;
  const pane: Size = {
    width: isBeside && !isNarrow ? (width - 8) / 2 : width,
    height: Math.max(LEAST_HEIGHT, Math.round(window.innerHeight * SHARE)) / (isBeside && isNarrow ? 2 : 1),
  };
  // in a window of another size the page lies as a whole again
  const placeIn = (now: typeof moved): Place =>
    now?.in.width === pane.width && now.in.height === pane.height ? now.to : wholePage(size, pane);
  const place = placeIn(moved);
  const setPlace = (to: Place): void => setMoved({ to, in: pane });
  const change = (how: (place: Place, window: Size) => Place): void =>
    setMoved((now) => ({ to: how(placeIn(now), pane), in: pane }));
  const nearer = (factor: number): void =>
    change((now, window) => zoomed(now, factor, { x: window.width / 2, y: window.height / 2 }, size, window));
  const choose = (one: KnownFinding): void => {
    setChosen(one.id);
    const box = boxOf(laid, one, 'revision') ?? boxOf(laid, one, 'dummy');
    if (box !== null) setPlace(onBox(box, size, pane));
  };
  const step = (by: number): void => {
    const at = findings.findIndex(({ id }) => id === chosen);
    const next = findings[(at < 0 && by < 0 ? 0 : at + by + findings.length) % Math.max(1, findings.length)];
    if (next !== undefined) choose(next);
  };
  const hold = { press: () => setHeld(true), letGo: () => setHeld(false) };
  useKeys({
    ...{ n: { press: () => step(1) }, p: { press: () => step(-1) } },
    ...{ '+': { press: () => nearer(STEP) }, '-': { press: () => nearer(1 / STEP) } },
    ...{ '0': { press: () => setPlace(wholePage(size, pane)) }, b: hold },
    d: { press: () => setShown((now) => ({ ...now, hasDifference: !now.hasDifference })) },
  });
  const under =
    point === null ? null : pageAt(laid, (point.x - place.x) / place.scale, (point.y - place.y) / place.scale);
  const common = {
    titleId,
    files: { dummy: dummyFile ?? fileId, revision: fileId },
    laid,
    place,
    pane,
    shown,
    findings,
    chosen,
    onPlace: change,
    onPoint: setPoint,
  };
  const controls = (
    <Controls
      shown={shown}
      onShown={setShown}
      hasDummy={hasDummy}
      isNarrow={isNarrow}
      onNearer={() => nearer(STEP)}
      onFurther={() => nearer(1 / STEP)}
      onWhole={() => setPlace(wholePage(size, pane))}
      onHold={setHeld}
    />
  );
  return (
    <div className="close-look">
      {!isNarrow && controls}
      <div className="bench-frame" ref={of}>
        <div className={isBeside ? 'panes two' : 'panes'}>
          {width > 0 && (
            <>
              {isBeside && <Pane {...common} under="dummy" isOver={false} />}
              <Pane
                {...common}
                under={hasDummy && (isHeld || !isBeside) ? 'dummy' : 'revision'}
                isOver={hasDummy && !isHeld && !isBeside}
              />
            </>
          )}
        </div>
      </div>
      {isNarrow && controls}
      <div className="look-foot">
        <Ruler scale={place.scale} />
        {hasDummy &&
          (under?.page.dummy == null ? (
            <p className="loupe">{said.beside}</p>
          ) : (
            <Loupe dummy={under.page.dummy} revision={under.page.revision} page={under.page.size} at={under} />
          ))}
      </div>
      <p className="caution">{hasDummy ? said.soft : said.nothingSigned}</p>
      <PageFindings
        titleId={titleId}
        fileId={fileId}
        findings={findings}
        chosen={chosen}
        onChoose={choose}
        onStep={step}
      />
      <p className="caution">{said.keys}</p>
    </div>
  );
}
