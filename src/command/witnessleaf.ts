/** The command line's entry. It imports nothing at its head, so that an old Node gets a sentence and no syntax error. */
export {};

const NEEDED = 24;

if (Number.parseInt(process.versions.node, 10) < NEEDED) {
  process.stderr.write(
    `witnessleaf: Node ${NEEDED} or later is needed, this is ${process.versions.node}; npm ci brings one, npm run uses it\n`,
  );
  process.exitCode = 2;
} else {
  const { runWitnessLeaf } = await import('./process.ts');
  process.exitCode = await runWitnessLeaf();
}
