import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { failedChecks } from '../../../src/model/index.ts';
import {
  checkTimeStamp,
  makeTimeStampRequest,
  requireTimeStamp,
  sha256,
  tokenOfResponse,
  type TimeStampClaim,
} from '../../../src/sealing/index.ts';
import { readCertificate } from '../../../src/sealing/certificate-facts.ts';
import { isForTimeStamping } from '../../../src/sealing/time-stamp-authority.ts';
import { readToken } from '../../../src/sealing/time-stamp-token.ts';
import { refusalOf } from '../../refusal-of.ts';
import { refusalOfPromise, somebody, withByte } from '../../sealing/people.ts';
import { openAuthority, type Authority } from './authority.ts';
import { hasOpenssl, openDesk, type Desk } from './openssl.ts';

const head = new TextEncoder().encode('archive.example/log\n12\nvBoGQ7EuTS18d5GPROD095qDi2z57FtcKD4fTYhZnms=\n');

/** Of bytes that are changed in turn; no divisor of 8. `SEALING_STEP=1` changes every one. */
const STEP = Number(process.env.SEALING_STEP ?? 7);

describe.skipIf(!hasOpenssl)('a time-stamp on a head of the log, by OpenSSL as the authority,', () => {
  let desk: Desk;
  let authority: Authority;
  let claim: TimeStampClaim & { readonly nonce: Uint8Array };
  let response: Uint8Array;
  beforeAll(async () => {
    desk = openDesk();
    authority = openAuthority(desk);
    const hash = await sha256(head);
    const { request, nonce } = makeTimeStampRequest(hash);
    response = authority.answer(request);
    claim = { token: tokenOfResponse(response), hash, nonce, trusted: [authority.root] };
  });
  afterAll(() => desk.clear());

  const faultsOf = async (change: Partial<TimeStampClaim>) =>
    failedChecks((await checkTimeStamp({ ...claim, ...change })).checks).map(({ name }) => name);

  it('is asked for in a request that OpenSSL reads', () => {
    const { request, nonce } = makeTimeStampRequest(claim.hash);
    desk.put('ours.tsq', request);
    const printed = desk.run('ts', '-query', '-in', 'ours.tsq', '-text');
    expect(printed).toContain('Version: 1');
    expect(printed).toContain('Hash Algorithm: sha256');
    expect(printed).toContain('Certificate required: yes');
    expect(printed).toContain(
      `Nonce: 0x${Buffer.from(nonce)
        .toString('hex')
        .toUpperCase()
        .replace(/^(00)+/, '')}`,
    );
  });

  it('holds in every check, with the root trusted or the authority itself', async () => {
    const before = Date.now();
    const { checks, ...answer } = await checkTimeStamp(claim);
    expect(checks.map(({ name, outcome }) => `${name} ${outcome}`)).toEqual([
      'imprint holds',
      'nonce holds',
      'message-digest holds',
      'signing-certificate holds',
      'signature holds',
      'certificate-for-time-stamping holds',
      'authority-trusted holds',
    ]);
    expect(await requireTimeStamp({ ...claim, trusted: [authority.own] })).toEqual(answer);
    expect([answer.policy, answer.serial]).toEqual(['1.2.3.4', '02']);
    expect(Math.abs(Date.parse(answer.at) - before)).toBeLessThan(60_000);
  });

  it('is taken by OpenSSL too, as a whole answer and as the token that is kept', () => {
    desk.put('head.txt', head);
    desk.put('token.der', claim.token);
    desk.put('answer.tsr', response);
    expect(desk.status('ts', '-verify', '-data', 'head.txt', '-in', 'answer.tsr', '-CAfile', 'root.pem')).toBe(0);
    expect(
      desk.status('ts', '-verify', '-data', 'head.txt', '-in', 'token.der', '-token_in', '-CAfile', 'root.pem'),
    ).toBe(0);
    desk.put('head.txt', withByte(head, 3));
    expect(
      desk.status('ts', '-verify', '-data', 'head.txt', '-in', 'token.der', '-token_in', '-CAfile', 'root.pem'),
    ).toBe(1);
  });

  it('on another head is refused for its imprint', async () => {
    expect(await faultsOf({ hash: await sha256(withByte(head, 0)) })).toEqual(['imprint']);
  });

  it('that answers another request is refused for its nonce', async () => {
    const nonce = withByte(claim.nonce, 7);
    const digits = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex').replace(/^0+/, '');
    expect(await refusalOfPromise(requireTimeStamp({ ...claim, nonce }))).toEqual({
      kind: 'unproven',
      what: 'time-stamp',
      checks: [{ name: 'nonce', expected: digits(nonce), found: digits(claim.nonce) }],
    });
  });

  it('says, years later and without the request, that the nonce was not checked', async () => {
    const { nonce: _nonce, ...later } = claim;
    const { checks } = await checkTimeStamp(later);
    expect(checks.filter(({ outcome }) => outcome !== 'holds')).toEqual([
      { name: 'nonce', outcome: 'not-checked', why: 'the request is not at hand' },
    ]);
  });

  it('by an authority that nobody trusts is refused for that', async () => {
    const { certificate } = await somebody('ecdsa-p256');
    expect(await faultsOf({ trusted: [certificate] })).toEqual(['authority-trusted']);
    expect(await faultsOf({ trusted: [] })).toEqual(['authority-trusted']);
  });

  it('changed in any one byte is refused, or says the same: a token also carries what nobody signed', async () => {
    const { nonce: _nonce, ...later } = claim;
    const { checks: _checks, ...sound } = await checkTimeStamp(later);
    const { signed, infoBytes } = readToken(claim.token);
    // Tag and length around a certificate hold nothing, and are written anew before its hash is taken.
    const relied = [infoBytes, authority.own.subarray(4), signed.signerInfos[0]!.signature.valueBlock.valueHexView].map(
      (part) => {
        const begin = Buffer.from(claim.token).indexOf(part);
        return { begin, end: begin + part.length };
      },
    );
    expect(relied.filter(({ begin }) => begin < 0)).toEqual([]);
    const unnoticed: number[] = [];
    // Each takes 10 ms: every seventh has its turn, and every bit.
    for (let at = 0; at < claim.token.length; at += STEP) {
      const token = withByte(claim.token, at, 1 << (at % 8));
      if ((await refusalOfPromise(requireTimeStamp({ ...claim, token }))) !== 'nothing was refused') continue;
      const { checks: _same, ...answer } = await checkTimeStamp({ ...later, token });
      expect(answer).toEqual(sound);
      if (relied.some(({ begin, end }) => at >= begin && at < end)) unnoticed.push(at);
    }
    expect(unnoticed).toEqual([]);
  });

  it('that the authority refuses to give is refused in the authority’s words', async () => {
    const { request } = makeTimeStampRequest(await sha256(head));
    const answer = authority.answer(request, 'sha512');
    expect(refusalOf(() => tokenOfResponse(answer))).toEqual({
      kind: 'unavailable',
      what: 'time-stamp',
      reason: 'the authority gave none: rejected (Message digest algorithm is not supported.)',
    });
  });

  it.each([
    ['an answer', () => tokenOfResponse(head)],
    ['an answer', () => tokenOfResponse(new Uint8Array())],
  ])('that is not %s at all is refused', (_, call) => {
    expect(refusalOf(call)).toEqual({
      kind: 'unreadable',
      file: 'time-stamp',
      reason: 'it is not an answer of an authority',
    });
  });

  it('that is no token is refused', async () => {
    expect(await refusalOfPromise(checkTimeStamp({ ...claim, token: response }))).toEqual({
      kind: 'unreadable',
      file: 'time-stamp',
      reason: 'it is not a time-stamp token',
    });
  });

  it('holds from an authority with an RSA key', async () => {
    const other = openDesk();
    const rsa = openAuthority(other, 'critical,timeStamping', 'rsa:3072');
    const { request, nonce } = makeTimeStampRequest(claim.hash);
    const token = tokenOfResponse(rsa.answer(request));
    expect(await faultsOf({ token, nonce, trusted: [rsa.root] })).toEqual([]);
    other.clear();
  });

  it('is not asked for over anything but a SHA-256', () => {
    expect(refusalOf(() => makeTimeStampRequest(new Uint8Array(20)))).toEqual({
      kind: 'malformed',
      pointer: '/hash',
      expected: '32 bytes',
      found: '20 bytes',
    });
  });
});

describe.skipIf(!hasOpenssl)('a certificate', () => {
  let desk: Desk;
  beforeAll(() => {
    desk = openDesk();
  });
  afterAll(() => desk.clear());

  it.each([
    ['for time-stamps alone, under obligation, is one of an authority', 'critical,timeStamping', true],
    ['for time-stamps without obligation is not', 'timeStamping', false],
    ['for time-stamps and signed mail is not', 'critical,timeStamping,emailProtection', false],
    ['for signed mail is not', 'critical,emailProtection', false],
  ])('%s', (_, uses, is) => {
    const { own } = openAuthority(desk, uses);
    expect(isForTimeStamping(readCertificate(own))).toBe(is);
  });
});
