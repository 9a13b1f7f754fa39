import { useEffect, useId, useRef } from 'react';
import type { ReactNode } from 'react';
import { words } from '../words/index.ts';
import { Button } from './button.tsx';

interface DialogGiven {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

/** A dialog over the page; Escape closes it, and the focus goes back to where it was. */
export function Dialog({ title, onClose, children }: DialogGiven) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const shown = dialog.current;
    const before = document.activeElement;
    if (shown !== null && !shown.open) shown.showModal();
    return () => {
      shown?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <div className="stack">
        <h2 id={id}>{title}</h2>
        {children}
        <div className="row">
          <Button look="bare" onClick={onClose}>
            {words.pieces.close}
          </Button>
        </div>
      </div>
    </dialog>
  );
}
