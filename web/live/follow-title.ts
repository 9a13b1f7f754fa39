import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { keepNews } from './keep-news.ts';
import { NEWS } from './news.ts';
import type { News } from './news.ts';

const FIRST_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 30_000;

/**
 * Listens to a title for as long as the view is shown. What the news say is kept where views look for it, and everything
 * asked about the title is asked again when it changes. The browser goes on by itself after a break, and what it cannot
 * make up for is told as `anew`.
 *
 * @returns whether the line is open, or still opens for the first time
 */
export function useTitleNews(titleId: string): boolean {
  const queries = useQueryClient();
  const [isOpen, setOpen] = useState(true);
  useEffect(() => listen(titleId, setOpen, (news) => keepNews(queries, titleId, news)), [queries, titleId]);
  return isOpen;
}

/** @returns how to end it */
function listen(titleId: string, setOpen: (isOpen: boolean) => void, tell: (news: News) => void): () => void {
  let source: EventSource | null = null;
  let timer = 0;
  let waitMs = FIRST_WAIT_MS;
  const open = (): void => {
    source = new EventSource(`/api/titles/${titleId}/events`);
    source.onopen = () => {
      waitMs = FIRST_WAIT_MS;
      setOpen(true);
    };
    source.onerror = () => {
      setOpen(false);
      // A line that broke is opened again by the browser, with the last it heard; one that was refused is not.
      if (source?.readyState !== EventSource.CLOSED) return;
      timer = window.setTimeout(open, waitMs);
      waitMs = Math.min(LONGEST_WAIT_MS, waitMs * 2);
    };
    for (const kind of NEWS) {
      source.addEventListener(kind, (event) => {
        const { part = null, file = null, ...data } = JSON.parse(event.data as string) as Record<string, unknown>;
        tell({ kind, part: part as string | null, file: file as string | null, data });
      });
    }
  };
  open();
  return () => {
    window.clearTimeout(timer);
    source?.close();
  };
}
