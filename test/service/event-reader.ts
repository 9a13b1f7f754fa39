/** An event as it came over the line. */
export interface HeardEvent {
  readonly id: string;
  readonly event: string;
  readonly data: Readonly<Record<string, unknown>>;
}

/**
 * Reads a stream of server-sent events up to the first that is enough, then goes away.
 *
 * @returns what was heard; null where the line ended before
 */
export async function readEvents(
  url: string,
  headers: Readonly<Record<string, string>>,
  isEnough: (event: HeardEvent) => boolean,
): Promise<readonly HeardEvent[] | null> {
  const leave = new AbortController();
  const answer = await fetch(url, { headers, signal: leave.signal });
  if (!answer.ok || answer.body === null) return null;
  const heard: HeardEvent[] = [];
  let text = '';
  for await (const piece of answer.body.pipeThrough(new TextDecoderStream())) {
    text += piece;
    const blocks = text.split('\n\n');
    text = blocks.pop() ?? '';
    for (const event of blocks.flatMap(parseEvent)) {
      heard.push(event);
      if (!isEnough(event)) continue;
      leave.abort();
      return heard;
    }
  }
  return null;
}

function parseEvent(block: string): HeardEvent[] {
  const fields = new Map(
    block.split('\n').map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)]),
  );
  const [id, event, data] = [fields.get('id'), fields.get('event'), fields.get('data')];
  if (event === undefined || data === undefined) return [];
  return [{ id: id ?? '', event, data: JSON.parse(data) as HeardEvent['data'] }];
}
