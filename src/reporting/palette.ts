/** A colour as sRGB levels. */
export type Rgb = readonly [red: number, green: number, blue: number];

/**
 * The report's colours: warm paper, iron-gall ink, one signal. A test holds each pair of them against WCAG 2.2
 * (1.4.3 and 1.4.11); the style sheet carries the same values under the same names.
 */
export const PALETTE = {
  light: {
    paper: '#f8f4ea',
    leaf: '#fffdf7',
    ink: '#1c2733',
    faded: '#56606a',
    hairline: '#c9bfa9',
    signal: '#a83a0d',
  },
  dark: { paper: '#171a1d', leaf: '#202428', ink: '#ece6d8', faded: '#aaa698', hairline: '#484c4e', signal: '#ff9d66' },
} as const;

/** The signal on the pale ground of a difference map, where it has to carry on its own. */
export const SIGNAL_ON_MAP: Rgb = [0xa8, 0x3a, 0x0d];
