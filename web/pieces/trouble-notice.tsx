import { troubleOf } from '../call/trouble.ts';
import { words } from '../words/index.ts';
import { Button } from './button.tsx';
import { Notice } from './notice.tsx';

interface TroubleGiven {
  readonly error: unknown;
  /** What was being done, as “Signing in”. */
  readonly doing: string;
  readonly onRetry?: () => void;
}

/** What went wrong: what happened, what is safe, and what to do next. */
export function TroubleNotice({ error, doing, onRetry }: TroubleGiven) {
  const { kind, message } = troubleOf(error);
  const { happened, safe, next } = words.trouble[kind];
  return (
    <Notice tone="stop" title={words.trouble.title(doing, happened)} isNews>
      <p>
        {safe} {next}
      </p>
      {message !== '' && <p className="soft small">{words.trouble.detail(message)}</p>}
      {onRetry !== undefined && (
        <div className="row">
          <Button onClick={onRetry}>{words.pieces.again}</Button>
        </div>
      )}
    </Notice>
  );
}
