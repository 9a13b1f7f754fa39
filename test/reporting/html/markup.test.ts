import { describe, expect, it } from 'vitest';
import { changedWords } from '../../../src/reporting/html/changed-words.ts';
import { html } from '../../../src/reporting/html/markup.ts';

describe('a name with markup in it', () => {
  it('is text in text and in attributes', () => {
    const name = '<script>alert("x")</script> & \'son\'.pdf';
    expect(html`<p title="${name}">${name}</p>`.markup).toBe(
      '<p title="&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; &#39;son&#39;.pdf">' +
        '&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; &#39;son&#39;.pdf</p>',
    );
  });

  it('cannot turn the direction of the text around it, nor hold characters that no page may hold', () => {
    expect(html`${'rev\u202Efdp.\u0000exe'}`.markup).toBe('rev[U+202E]fdp.[U+0000]exe');
  });
});

describe('markup', () => {
  it('is set as it stands, lists piece by piece, nothing where there is nothing', () => {
    const items = ['a', '<b>'].map((item) => html`<li>${item}</li>`);
    const all = html`${items}|${null}|${false}|${1.23456}`;
    expect(all.markup).toBe('<li>a</li><li>&lt;b&gt;</li>|||1.235');
  });
});

describe('two wordings', () => {
  it.each([
    ['winters.', 'winter.', '“winter<mark>s</mark>.”', '“winter.”'],
    ['Málaholt', 'Malaholt', '“M<mark>á</mark>laholt”', '“M<mark>a</mark>laholt”'],
    ['Ma\u0301laholt', 'Malaholt', '“M<mark>a\u0301</mark>laholt”', '“M<mark>a</mark>laholt”'],
    ['', 'new', 'nothing', '“<mark>new</mark>”'],
    ['aa', 'aaa', '“aa”', '“aa<mark>a</mark>”'],
    ['same', 'same', '“same”', '“same”'],
    ['<b>', '<i>', '“&lt;<mark>b</mark>&gt;”', '“&lt;<mark>i</mark>&gt;”'],
  ])('%s and %s are marked where they differ', (before, after, one, other) => {
    const marked = changedWords({ before, after });
    expect([marked.before.markup, marked.after.markup]).toEqual([one, other]);
  });
});
