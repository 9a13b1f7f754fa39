/** The command line's entry. It imports nothing at its head, so that an old Node gets a sentence and no syntax error. */
export {};

const NEEDED = 24;

if (Number.parseInt(process.versions.node, 10) < NEEDED) {
  process.stderr.write(
    `witnessleaf: Node ${NEEDED} or later is needed, this is ${process.versions.node}; npm ci brings one, npm run uses it\n`,
  );
  process.exitCode = 2;
} else {
  const { enableCompileCache } = await import('node:module');
  const { fileURLToPath } = await import('node:url');
  // Beside the modules themselves, as with workers; where nothing can be written there, all is compiled anew.
  enableCompileCache(fileURLToPath(new URL('../../node_modules/.cache/witnessleaf-compiled', import.meta.url)));
  const { runWitnessLeaf } = await import('./process.ts');
  process.exitCode = await runWitnessLeaf();
}
