import { describe, expect, it } from 'vitest';
import { RASTER_RENDERER } from '../../../src/reading/pool/index.ts';
import { assetFolder, serveAssets } from '../../../src/reading/raster/pdfjs-assets.ts';

serveAssets();

function request(address: string): number | string {
  const asked = new XMLHttpRequest();
  asked.open('GET', address, false);
  try {
    asked.send(null);
  } catch (error) {
    return (error as Error).message;
  }
  return (asked.response as ArrayBuffer).byteLength;
}

describe('the renderer', () => {
  it('is named with the versions that decide what a raster looks like', () => {
    expect(RASTER_RENDERER).toBe('pdfjs 6.5.438 + canvas 1.0.13 + sharp 0.35.5 + half-jpeg 1');
  });

  it('is given its own files', async () => {
    const profile = `${assetFolder('iccs')}CGATS001Compat-v2-micro.icc`;
    const fetched = await (await fetch(new URL(`file://${profile}`))).arrayBuffer();
    expect([request(profile), request(`file://${profile}`), fetched.byteLength]).toEqual([8464, 8464, 8464]);
  });

  it('is given no other file of the machine', async () => {
    const others = ['/etc/passwd', 'file:///etc/passwd', `${assetFolder('iccs')}../../sharp/package.json`];
    expect(others.map(request)).toEqual(others.map((address) => `not a file of the renderer: ${address}`));
    await expect(fetch('file:///etc/passwd')).rejects.toThrow('not a file of the renderer: file:///etc/passwd');
  });
});
