import { useId } from 'react';
import { Button } from '../pieces/button.tsx';
import { words } from '../words/index.ts';
import { WAYS } from './ways.ts';
import type { Way } from './ways.ts';

/** How the pages are shown. */
export interface Shown {
  readonly way: Way;
  /** Share of this file that shows, of 1. */
  readonly fade: number;
  /** Where the edge stands, of the window's width. */
  readonly edge: number;
  /** Whether what differs is marked over the pages, however they lie. */
  readonly hasDifference: boolean;
  readonly hasLines: boolean;
  readonly hasWindows: boolean;
  readonly isAlike: boolean;
}

interface ControlsGiven {
  readonly shown: Shown;
  readonly onShown: (shown: Shown) => void;
  readonly hasDummy: boolean;
  /** On a phone, what is pressed rarely is folded away. */
  readonly isNarrow: boolean;
  readonly onNearer: () => void;
  readonly onFurther: () => void;
  readonly onWhole: () => void;
  readonly onHold: (isHeld: boolean) => void;
}

const said = words.look;

/** Everything that changes how the pages lie. */
export function Controls({ isNarrow, ...given }: ControlsGiven) {
  if (!isNarrow) {
    return (
      <div className="look-controls">
        <Ways {...given} />
        <Slide {...given} />
        <div className="row">
          <Hands {...given} />
          <Layers {...given} />
        </div>
      </div>
    );
  }
  return (
    <div className="look-controls">
      <div className="look-hands">
        <Hands {...given} />
      </div>
      <Slide {...given} />
      <details className="look-folded">
        <summary>{said.folded}</summary>
        <Ways {...given} />
        <Layers {...given} />
      </details>
    </div>
  );
}

type Part = Omit<ControlsGiven, 'isNarrow'>;

function Ways({ shown, onShown, hasDummy }: Part) {
  const id = useId();
  if (!hasDummy) return null;
  return (
    <fieldset className="look-ways">
      <legend className="unseen">{said.way}</legend>
      {WAYS.map((one) => (
        <label key={one} className={one === shown.way ? 'look-way chosen' : 'look-way'}>
          <input type="radio" name={id} checked={one === shown.way} onChange={() => onShown({ ...shown, way: one })} />
          {said.ways[one]}
        </label>
      ))}
    </fieldset>
  );
}

function Slide({ shown, onShown, hasDummy }: Part) {
  const { way } = shown;
  if (!hasDummy || (way !== 'fade' && way !== 'edge')) return null;
  return (
    <label className="slide">
      {said[way]}
      <input
        type="range"
        min="0"
        max="1"
        step="0.01"
        value={shown[way]}
        onChange={(event) => onShown({ ...shown, [way]: Number(event.currentTarget.value) })}
      />
    </label>
  );
}

function Hands({ hasDummy, onNearer, onFurther, onWhole, onHold }: Part) {
  return (
    <>
      {hasDummy && (
        <Button
          onPointerDown={() => onHold(true)}
          onPointerUp={() => onHold(false)}
          onPointerLeave={() => onHold(false)}
          onPointerCancel={() => onHold(false)}
        >
          {said.hold}
        </Button>
      )}
      <Button onClick={onNearer}>{said.nearer}</Button>
      <Button onClick={onFurther}>{said.further}</Button>
      <Button onClick={onWhole}>{said.whole}</Button>
    </>
  );
}

function Layers({ shown, onShown, hasDummy }: Part) {
  const tick = (of: 'hasDifference' | 'hasLines' | 'hasWindows' | 'isAlike', name: string) => (
    <Tick is={shown[of]} onIs={(is) => onShown({ ...shown, [of]: is })} name={name} />
  );
  return (
    <>
      {hasDummy && shown.way !== 'difference' && tick('hasDifference', said.differenceOver)}
      {tick('hasLines', said.lines)}
      {tick('hasWindows', said.windows)}
      {hasDummy && tick('isAlike', said.alike)}
    </>
  );
}

function Tick({
  is,
  onIs,
  name,
}: {
  readonly is: boolean;
  readonly onIs: (is: boolean) => void;
  readonly name: string;
}) {
  return (
    <label className="look-tick">
      <input type="checkbox" checked={is} onChange={(event) => onIs(event.currentTarget.checked)} />
      {name}
    </label>
  );
}
