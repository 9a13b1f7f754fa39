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
  readonly hasLines: boolean;
  readonly hasWindows: boolean;
  readonly isAlike: boolean;
}

interface ControlsGiven {
  readonly shown: Shown;
  readonly onShown: (shown: Shown) => void;
  readonly hasDummy: boolean;
  readonly onNearer: () => void;
  readonly onFurther: () => void;
  readonly onWhole: () => void;
  readonly onHold: (isHeld: boolean) => void;
}

const said = words.look;

/** Everything that changes how the pages lie. */
export function Controls({ shown, onShown, hasDummy, onNearer, onFurther, onWhole, onHold }: ControlsGiven) {
  const id = useId();
  const { way } = shown;
  return (
    <div className="look-controls">
      {hasDummy && (
        <fieldset className="look-ways">
          <legend className="unseen">{said.way}</legend>
          {WAYS.map((one) => (
            <label key={one} className={one === way ? 'look-way chosen' : 'look-way'}>
              <input type="radio" name={id} checked={one === way} onChange={() => onShown({ ...shown, way: one })} />
              {said.ways[one]}
            </label>
          ))}
        </fieldset>
      )}
      {hasDummy && (way === 'fade' || way === 'edge') && (
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
      )}
      <div className="row">
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
        <Tick is={shown.hasLines} onIs={(hasLines) => onShown({ ...shown, hasLines })} name={said.lines} />
        <Tick is={shown.hasWindows} onIs={(hasWindows) => onShown({ ...shown, hasWindows })} name={said.windows} />
        {hasDummy && <Tick is={shown.isAlike} onIs={(isAlike) => onShown({ ...shown, isAlike })} name={said.alike} />}
      </div>
    </div>
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
