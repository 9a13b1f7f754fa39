import { words } from '../words/index.ts';

/** A fingerprint as it is read aloud: five groups, large. */
export function Fingerprint({ value }: { readonly value: string }) {
  return (
    <p className="fingerprint" role="group" aria-label={words.keys.fingerprint}>
      {value.split('-').map((group) => (
        <span key={group} aria-label={group.split('').join(' ')} role="text">
          {group}
        </span>
      ))}
    </p>
  );
}
