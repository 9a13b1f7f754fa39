import { useEffect, useRef, useState } from 'react';
import { Button } from '../pieces/button.tsx';
import { words } from '../words/index.ts';

interface DropGiven {
  /** Nothing was sent yet: choosing files is the one thing to do. */
  readonly isEmpty: boolean;
  readonly onFiles: (files: readonly File[]) => void;
}

/** Takes files that are dropped anywhere on the page, or chosen by a button. */
export function DropArea({ isEmpty, onFiles }: DropGiven) {
  const [isOver, setOver] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => onDrop(onFiles, setOver), [onFiles]);
  return (
    <div className="row">
      <Button look={isEmpty ? 'firm' : 'plain'} onClick={() => input.current?.click()}>
        {words.sending.choose}
      </Button>
      <input
        ref={input}
        type="file"
        multiple
        hidden
        onChange={(event) => {
          onFiles([...(event.currentTarget.files ?? [])]);
          event.currentTarget.value = '';
        }}
      />
      <span className="soft small">{words.sending.dropHint}</span>
      {isOver && (
        <div className="drop-veil">
          <p>{words.sending.drop}</p>
        </div>
      )}
    </div>
  );
}

/** @returns how to end it */
function onDrop(take: DropGiven['onFiles'], setOver: (isOver: boolean) => void): () => void {
  const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false;
  const over = (event: DragEvent): void => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    setOver(true);
  };
  const leave = (event: DragEvent): void => {
    if (event.relatedTarget === null) setOver(false);
  };
  const drop = (event: DragEvent): void => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    setOver(false);
    take([...(event.dataTransfer?.files ?? [])]);
  };
  document.addEventListener('dragover', over);
  document.addEventListener('dragleave', leave);
  document.addEventListener('drop', drop);
  return () => {
    document.removeEventListener('dragover', over);
    document.removeEventListener('dragleave', leave);
    document.removeEventListener('drop', drop);
  };
}
