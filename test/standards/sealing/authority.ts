import { readFileSync } from 'node:fs';
import type { Desk } from './openssl.ts';

const CONFIGURATION = `
[ authority ]
serial = ./serial
signer_digest = sha256
default_policy = 1.2.3.4
digests = sha256, sha384, sha512
accuracy = secs:1
ordering = no
tsa_name = yes
ess_cert_id_chain = no
ess_cert_id_alg = sha256
`;

/** A time-stamp authority of `openssl ts`, with a certificate by a root of its own. */
export interface Authority {
  /** Certificates in DER. */
  readonly root: Uint8Array;
  readonly own: Uint8Array;
  /** Answers a request; `digests` may leave out what the authority takes. */
  readonly answer: (request: Uint8Array, digests?: string) => Uint8Array;
}

/** Opens one at this desk. What its certificate is for may be something else than time-stamps. */
export function openAuthority(desk: Desk, uses = 'critical,timeStamping', key = 'ec:P-256'): Authority {
  const [algorithm, size] = key.split(':');
  const newKey = algorithm === 'rsa' ? ['-newkey', key] : ['-newkey', 'ec', '-pkeyopt', `ec_paramgen_curve:${size!}`];
  const request = ['req', '-x509', ...newKey, '-nodes', '-days', '30', '-utf8'];
  desk.run(
    ...[...request, '-keyout', 'root.key', '-out', 'root.pem', '-subj', '/CN=Wurzel der Zeit'],
    ...['-addext', 'basicConstraints=critical,CA:TRUE', '-addext', 'keyUsage=critical,keyCertSign'],
  );
  desk.run(
    ...[...request, '-keyout', 'tsa.key', '-out', 'tsa.pem', '-subj', '/O=Autorité/CN=L’heure exacte'],
    ...['-CA', 'root.pem', '-CAkey', 'root.key', '-addext', 'basicConstraints=critical,CA:FALSE'],
    ...['-addext', 'keyUsage=critical,digitalSignature', '-addext', `extendedKeyUsage=${uses}`],
  );
  desk.put('serial', '01\n');
  const derOf = (name: string) => {
    desk.run('x509', '-in', `${name}.pem`, '-outform', 'DER', '-out', `${name}.der`);
    return readFileSync(desk.path(`${name}.der`));
  };
  return {
    root: derOf('root'),
    own: derOf('tsa'),
    answer: (bytes, digests = 'sha256, sha384, sha512') => {
      desk.put('tsa.cnf', CONFIGURATION.replace('sha256, sha384, sha512', digests));
      desk.put('q.tsq', bytes);
      const how = ['-config', 'tsa.cnf', '-section', 'authority', '-queryfile', 'q.tsq', '-chain', 'root.pem'];
      desk.run('ts', '-reply', ...how, '-signer', 'tsa.pem', '-inkey', 'tsa.key', '-out', 'r.tsr');
      return readFileSync(desk.path('r.tsr'));
    },
  };
}
