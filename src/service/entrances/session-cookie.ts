import type { Configuration } from '../configuration.ts';

type Told = Pick<Configuration, 'origin'>;

/** Over HTTPS the prefix has browsers refuse it from anywhere else. @source RFC 6265bis 4.1.3.2 */
function nameOf(configuration: Told): string {
  return isSecure(configuration) ? '__Host-witnessleaf' : 'witnessleaf';
}

function isSecure({ origin }: Told): boolean {
  return origin.startsWith('https:');
}

/** The secret of a session out of a request's cookies, or null. */
export function sessionCookieIn(header: string | undefined, configuration: Told): string | null {
  const start = `${nameOf(configuration)}=`;
  const mine = (header ?? '').split(/; */).find((pair) => pair.startsWith(start));
  return mine === undefined ? null : mine.slice(start.length);
}

/** The header that hands a session to a browser: out of reach of scripts and of other sites. */
export function sessionCookie(secret: string, seconds: number, configuration: Told): string {
  const secure = isSecure(configuration) ? '; Secure' : '';
  return `${nameOf(configuration)}=${secret}; Path=/; Max-Age=${seconds}; HttpOnly; SameSite=Strict${secure}`;
}
