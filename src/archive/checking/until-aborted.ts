/**
 * What a promise gives, unless the signal ends the wait before. What goes on behind it is no longer waited for.
 *
 * @throws whatever the signal was aborted with
 */
export async function untilAborted<T>(signal: AbortSignal, going: Promise<T>): Promise<T> {
  going.catch(() => undefined);
  let stop: () => void = () => undefined;
  const aborted = new Promise<never>((_, reject) => {
    stop = () => reject(signal.reason as Error);
    if (signal.aborted) stop();
    signal.addEventListener('abort', stop, { once: true });
  });
  try {
    return await Promise.race([going, aborted]);
  } finally {
    signal.removeEventListener('abort', stop);
  }
}
