import type { CutMm, Mm } from '../../model/index.ts';
import type { GeometryChange } from './explain-geometry.ts';

/** "1.2 mm": lengths in sentences have one decimal, small ones two. */
export function formatMm(length: Mm): string {
  const size = Math.abs(length);
  return `${size < 1 ? size.toFixed(2) : size.toFixed(1)} mm`;
}

/** "1.2 mm to the right and 0.40 mm down"; parts under 0.05 mm are not worth words. */
export function describeShift(shiftXmm: Mm, shiftYmm: Mm): string {
  const parts: string[] = [];
  if (Math.abs(shiftXmm) >= 0.05) parts.push(`${formatMm(shiftXmm)} to the ${shiftXmm > 0 ? 'right' : 'left'}`);
  if (Math.abs(shiftYmm) >= 0.05) parts.push(`${formatMm(shiftYmm)} ${shiftYmm > 0 ? 'down' : 'up'}`);
  return parts.length === 0 ? 'nowhere' : parts.join(' and ');
}

/** The sentence for a change of a picture's place or crop. */
export function sayGeometry(change: GeometryChange, uncertaintyMm: Mm, decidedBy: 'pixels' | 'placement'): string {
  switch (change.kind) {
    case 'unchanged':
      return 'The picture stands as it stood.';
    case 'picture-mirrored':
      return change.axis === 'horizontal'
        ? 'The picture is mirrored: left and right are exchanged.'
        : 'The picture is mirrored: top and bottom are exchanged.';
    case 'picture-turned':
      return `The picture is turned by ${Math.abs(change.degrees).toFixed(1)} degrees ${change.degrees > 0 ? 'clockwise' : 'anticlockwise'}.`;
    case 'picture-moved':
      return `The picture moved with its frame, ${describeShift(change.shiftXmm, change.shiftYmm)}.`;
    case 'picture-resized':
      return `The picture is printed at ${(change.scale * 100).toFixed(1)} % of its size in the dummy.`;
    case 'crop-altered':
      return sayCrop(change, uncertaintyMm, decidedBy);
  }
}

function sayCrop(
  change: Extract<GeometryChange, { kind: 'crop-altered' }>,
  uncertaintyMm: Mm,
  decidedBy: 'pixels' | 'placement',
): string {
  const parts: string[] = [];
  if (change.edgesOnly) parts.push("the window's edges moved while the content stands");
  else if (Math.hypot(change.shiftXmm, change.shiftYmm) >= 0.05) {
    const sure = decidedBy === 'pixels' ? ` (±${formatMm(uncertaintyMm)})` : ' (by the placement in the files)';
    parts.push(`its content sits ${describeShift(change.shiftXmm, change.shiftYmm)} of where it was${sure}`);
  }
  if (!change.edgesOnly && Math.abs(change.scale - 1) >= 0.002) {
    parts.push(`it is scaled to ${(change.scale * 100).toFixed(1)} %`);
  }
  const cut = sayCut(change.cutMm);
  return `The picture is cropped differently: ${parts.join('; ')}${cut === '' ? '' : `; ${cut}`}.`;
}

function sayCut(cut: CutMm): string {
  const edges = ['left', 'right', 'top', 'bottom'] as const;
  const lost = edges.filter((edge) => cut[edge] >= 0.2).map((edge) => `${formatMm(cut[edge])} at the ${edge}`);
  const more = edges.filter((edge) => cut[edge] <= -0.2).map((edge) => `${formatMm(cut[edge])} at the ${edge}`);
  const parts: string[] = [];
  if (lost.length > 0) parts.push(`lost: ${lost.join(', ')}`);
  if (more.length > 0) parts.push(`more shows: ${more.join(', ')}`);
  return parts.join('; ');
}
