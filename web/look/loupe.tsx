import { deltaE00, labFromSrgb } from '../../src/comparing/index.ts';
import { pictureOf, type BookPage } from '../book/queries.ts';
import { words } from '../words/index.ts';
import type { Size } from './pan-zoom.ts';
import { colourAt, useSamples } from './samples.ts';

interface LoupeGiven {
  readonly dummy: BookPage;
  readonly revision: BookPage;
  readonly page: Size;
  /** On the page, in mm. */
  readonly at: { readonly x: number; readonly y: number };
}

const WIDTH = 1280;
/** So many pixels to each side are averaged: screen and grain are no colour. */
const REACH = 1;

const said = words.look;

/** Both colours under the pointer, and how far they lie apart. */
export function Loupe({ dummy, revision, page, at }: LoupeGiven) {
  const ours = useSamples(pictureOf(dummy, WIDTH));
  const theirs = useSamples(pictureOf(revision, WIDTH));
  if (ours === null || theirs === null) return <p className="loupe">{words.pieces.oneMoment}</p>;
  const one = colourAt(ours, (at.x / page.width) * ours.width, (at.y / page.height) * ours.height, REACH);
  const other = colourAt(theirs, (at.x / page.width) * theirs.width, (at.y / page.height) * theirs.height, REACH);
  if (one === null || other === null) return <p className="loupe">{said.beside}</p>;
  const [before, after] = [labFromSrgb(...one), labFromSrgb(...other)];
  return (
    <dl className="loupe">
      <dt>{said.place}</dt>
      <dd>{said.atMm(at.x, at.y)}</dd>
      <dt>{said.dummyColour}</dt>
      <dd>
        <Swatch colour={one} /> {said.lab(before.l, before.a, before.b)}
      </dd>
      <dt>{said.revisionColour}</dt>
      <dd>
        <Swatch colour={other} /> {said.lab(after.l, after.a, after.b)}
      </dd>
      <dt>{said.apart}</dt>
      <dd>{said.deltaE(deltaE00(before, after))}</dd>
    </dl>
  );
}

function Swatch({ colour: [red, green, blue] }: { readonly colour: readonly [number, number, number] }) {
  return <span className="swatch" style={{ backgroundColor: `rgb(${red} ${green} ${blue})` }} />;
}
