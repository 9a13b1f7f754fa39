import type { ButtonHTMLAttributes } from 'react';

interface ButtonGiven extends ButtonHTMLAttributes<HTMLButtonElement> {
  /** `firm`: the one thing to do here; `bare`: as a link. */
  readonly look?: 'firm' | 'plain' | 'bare';
  /** While it works it keeps its focus and takes no second press. */
  readonly isBusy?: boolean;
}

/** A button. */
export function Button({ look = 'plain', isBusy = false, onClick, className = '', type, ...given }: ButtonGiven) {
  return (
    <button
      {...given}
      type={type ?? 'button'}
      className={`button ${look} ${className}`}
      aria-disabled={isBusy || undefined}
      onClick={(event) => {
        if (isBusy) event.preventDefault();
        else onClick?.(event);
      }}
    />
  );
}
