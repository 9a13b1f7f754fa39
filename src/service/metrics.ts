/** Upper bounds of the classes of duration, in seconds. */
const SECONDS = [0.005, 0.02, 0.1, 0.5, 2, 10, 60] as const;

/** A figure that is looked up when it is asked for. */
export interface Gauge {
  readonly name: string;
  readonly says: string;
  readonly values: readonly { readonly labels: Readonly<Record<string, string>>; readonly value: number }[];
}

/** What the service counts about itself. */
export interface Metrics {
  /** @param route  the path as the table has it, so that no id gets into a label */
  answered(route: string, method: string, status: number, seconds: number): void;
  /** Everything as text. @source Prometheus text exposition format 0.0.4 */
  text(gauges: readonly Gauge[]): string;
}

interface Series {
  readonly labels: Readonly<Record<string, string>>;
  readonly within: number[];
  count: number;
  sum: number;
}

/** Counters at zero. */
export function newMetrics(): Metrics {
  const requests = new Map<string, Series>();
  return {
    answered(route, method, status, seconds) {
      const labels = { route, method, status: String(status) };
      const key = Object.values(labels).join(' ');
      const series = requests.get(key) ?? { labels, within: SECONDS.map(() => 0), count: 0, sum: 0 };
      requests.set(key, series);
      series.count += 1;
      series.sum += seconds;
      SECONDS.forEach((bound, index) => {
        if (seconds <= bound) series.within[index] = (series.within[index] ?? 0) + 1;
      });
    },
    text: (gauges) => [...durationLines([...requests.values()]), ...gauges.flatMap(gaugeLines), ''].join('\n'),
  };
}

function durationLines(all: readonly Series[]): readonly string[] {
  const name = 'witnessleaf_request_seconds';
  return [
    `# HELP ${name} Time until an answer was complete.`,
    `# TYPE ${name} histogram`,
    ...all.flatMap(({ labels, within, count, sum }) => [
      ...SECONDS.map((bound, index) => line(`${name}_bucket`, { ...labels, le: String(bound) }, within[index] ?? 0)),
      line(`${name}_bucket`, { ...labels, le: '+Inf' }, count),
      line(`${name}_sum`, labels, sum),
      line(`${name}_count`, labels, count),
    ]),
  ];
}

function gaugeLines({ name, says, values }: Gauge): readonly string[] {
  return [
    `# HELP ${name} ${says}`,
    `# TYPE ${name} gauge`,
    ...values.map(({ labels, value }) => line(name, labels, value)),
  ];
}

function line(name: string, labels: Readonly<Record<string, string>>, value: number): string {
  const told = Object.entries(labels).map(([label, text]) => `${label}="${text.replace(/["\\\n]/g, '\\$&')}"`);
  return `${name}${told.length === 0 ? '' : `{${told.join(',')}}`} ${value}`;
}
