import { join } from 'node:path';
import { verifyInEmptyRoom } from '../empty-room.ts';
import { onTitle, type Stage } from '../stage.ts';
import { unpack } from '../unpack.ts';

/** The evidence pack, pulled by the publisher and verified twice. @returns where it lies, packed and unpacked */
export async function playEvidence(stage: Stage): Promise<{ readonly pack: string; readonly folder: string }> {
  const { tell, cast } = stage;
  const home = stage.homeOf(cast.publisher).folder;
  const [pack, folder] = [join(home, 'evidence.zip'), join(home, 'evidence')];
  await stage.run(cast.publisher, ['evidence', 'evidence.zip', ...onTitle(stage)]);
  tell(`${cast.publisher.name} pulls the evidence pack: ${pack}`);
  await unpack(pack, folder);
  const { exit, out, err } = await verifyInEmptyRoom(folder, join(home, 'empty-room'));
  if (exit !== 0) throw new Error(`verify.sh ended with ${exit}\n${out}${err}`);
  tell('Unpacked, it verifies by `sh verify.sh`, where there is nothing but a shell, openssl and sha256sum:');
  tell(`  ${out.trim().split('\n').at(-1) ?? ''}`);
  const verified = await stage.run(cast.publisher, ['verify', pack]);
  tell('The program itself comes to the same:');
  tell(`  ${verified.out.trim().split('\n').at(-1) ?? ''}`);
  return { pack, folder };
}
