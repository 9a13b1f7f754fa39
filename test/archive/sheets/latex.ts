import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { hasTool } from '../../reading/pdf/outside-tool.ts';

/** @source LaTeX, Debian package texlive-latex-recommended */
export const hasLatex = hasTool('pdflatex', 'texlive-latex-recommended');

/**
 * Has LaTeX write a PDF into a folder, beside the files that it places.
 *
 * @param name  of the PDF, without its ending
 * @param paper  as the package geometry has it
 */
export function typeset(
  folder: string,
  name: string,
  { paper, packages, body }: { readonly paper: string; readonly packages: string; readonly body: string },
): void {
  const source = [
    String.raw`\documentclass{article}`,
    String.raw`\usepackage[${paper},margin=0mm]{geometry}`,
    String.raw`\usepackage{${packages}}`,
    String.raw`\pagestyle{empty}\parindent0pt\topskip0pt`,
    String.raw`\begin{document}${body}\end{document}`,
  ].join('\n');
  writeFileSync(`${folder}/${name}.tex`, source);
  const words = ['-interaction=batchmode', '-halt-on-error', '-no-shell-escape', `${name}.tex`];
  execFileSync('pdflatex', words, { cwd: folder, env: { ...process.env, TEXMFVAR: folder }, stdio: 'ignore' });
}
