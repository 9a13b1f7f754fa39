const whole = new Intl.NumberFormat('en-GB');
const oneDigit = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 1 });
const moments = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
const plurals = new Intl.PluralRules('en-GB');

const STEP = 1000;
const UNITS = ['B', 'kB', 'MB', 'GB', 'TB'] as const;
const MINUTE_S = 60;
const HOUR_S = 3600;

/** How figures, moments and amounts are written. */
export const figures = {
  count: (count: number) => whole.format(count),
  bytes: (bytes: number) => {
    const step = Math.min(UNITS.length - 1, Math.max(0, Math.floor(Math.log10(Math.max(1, bytes)) / 3)));
    return `${oneDigit.format(bytes / STEP ** step)} ${UNITS[step] ?? 'B'}`;
  },
  moment: (instant: string) => moments.format(new Date(instant)),
  /** One thing or many, as “1 finding”, “3 findings”. */
  some: (count: number, one: string, many: string) =>
    `${whole.format(count)} ${plurals.select(count) === 'one' ? one : many}`,
  duration: (seconds: number) => {
    if (seconds < MINUTE_S) return `${Math.max(1, Math.round(seconds))} s`;
    if (seconds < HOUR_S) return `${Math.round(seconds / MINUTE_S)} min`;
    return `${Math.floor(seconds / HOUR_S)} h ${Math.round((seconds % HOUR_S) / MINUTE_S)} min`;
  },
};
