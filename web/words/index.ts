import { english } from './english/index.ts';

/** Everything the pages say. Another language is another object of the same form, chosen here. */
export const words = english;
