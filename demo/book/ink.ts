import type { Ink } from './spec.ts';

// The process values were chosen by eye; the RGB ones are what a screen shows for them.
export const BLACK: Ink = { rgb: [35, 31, 32], cmyk: [0, 0, 0, 100] };
export const DEEP_BLACK: Ink = { rgb: [12, 10, 12], cmyk: [60, 50, 50, 100] };
export const GREY: Ink = { rgb: [109, 110, 113], cmyk: [0, 0, 0, 70] };
export const PAPER: Ink = { rgb: [255, 255, 255], cmyk: [0, 0, 0, 0] };
export const OCHRE: Ink = { rgb: [181, 121, 47], cmyk: [10, 45, 90, 20] };
export const SAND: Ink = { rgb: [239, 228, 208], cmyk: [5, 8, 19, 0] };
export const MOSS: Ink = { rgb: [197, 204, 173], cmyk: [22, 10, 36, 2] };
export const WATER: Ink = { rgb: [186, 212, 222], cmyk: [26, 6, 8, 1] };
export const RUST: Ink = { rgb: [158, 66, 42], cmyk: [18, 82, 92, 20] };
