import type { Mm } from '../../model/index.ts';

/** A length with its unit, to the places that are measured: 0.97 mm, 2.0 mm. */
export function formatMm(length: Mm): string {
  const places = Math.abs(length) < 0.995 ? 2 : 1;
  const rounded = Math.abs(length).toFixed(places);
  return `${length < 0 && Number(rounded) !== 0 ? '−' : ''}${rounded} mm`;
}

/** A number with at most `places` decimals, a true minus sign and no idle zeros. */
export function formatNumber(value: number, places: number): string {
  const factor = 10 ** places;
  const rounded = Math.round(Math.abs(value) * factor) / factor;
  return `${value < 0 && rounded !== 0 ? '−' : ''}${rounded}`;
}

/** A ratio as what it does: 1.023 is "2.3 % larger". */
export function formatScale(ratio: number): string {
  const percent = (ratio - 1) * 100;
  if (Math.abs(percent) < 0.05) return 'unchanged';
  return `${formatNumber(Math.abs(percent), 1)} % ${percent > 0 ? 'larger' : 'smaller'}`;
}

/** A shift as a person would point: "1.2 mm to the right, 0.4 mm up". x to the right, y down. */
export function formatShift(shift: { readonly x: Mm; readonly y: Mm }): string {
  const parts = [
    Math.abs(shift.x) < 0.005 ? '' : `${formatMm(Math.abs(shift.x))} to the ${shift.x > 0 ? 'right' : 'left'}`,
    Math.abs(shift.y) < 0.005 ? '' : `${formatMm(Math.abs(shift.y))} ${shift.y > 0 ? 'down' : 'up'}`,
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'none' : parts.join(', ');
}

/** Bytes as people say them: "2.2 MB", powers of ten as disks are sold. */
export function formatBytes(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`;
  const step = Math.min(3, Math.floor(Math.log10(bytes) / 3));
  return `${formatNumber(bytes / 1000 ** step, 1)} ${['', 'kB', 'MB', 'GB'][step] ?? 'GB'}`;
}

/** "1 page", "2 pages". */
export function formatCount(count: number, singular: string, plural = `${singular}s`): string {
  return `${count} ${count === 1 ? singular : plural}`;
}

/** A sentence in which no figure is parted from its unit at the end of a line. */
export function keepUnits(sentence: string): string {
  return sentence.replace(/(\d) (?=(mm²?|ppi|%|MB|kB|GB)(?![a-z]))/g, '$1\u00a0');
}
