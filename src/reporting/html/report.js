// What the report does beyond being read: fading one side over the other, alternating them, keys from finding to finding.
// Without it everything stays readable.
'use strict';

document.documentElement.classList.add('with-script');

/** Two changes a second: well under the three flashes a second that may harm (WCAG 2.2, 2.3.1). */
const ALTERNATE_MS = 500;

const findings = [...document.querySelectorAll('.finding')];
const keysWanted = document.querySelector('.keys input');
const calm = matchMedia('(prefers-reduced-motion: reduce)');
let last = -1;

for (const overlay of document.querySelectorAll('.overlay')) {
  const upper = overlay.querySelector('.upper');
  const range = overlay.querySelector('input');
  const button = overlay.querySelector('button');
  range.addEventListener('input', () => show(upper, range));
  button.addEventListener('pointerdown', (event) => {
    button.setPointerCapture(event.pointerId);
    alternate(overlay);
  });
  for (const end of ['pointerup', 'pointercancel', 'blur']) button.addEventListener(end, rest);
  button.addEventListener('keydown', (event) => {
    if ((event.key === ' ' || event.key === 'Enter') && !event.repeat) alternate(overlay);
  });
  button.addEventListener('keyup', rest);
  show(upper, range);
}

function show(upper, range) {
  upper.style.opacity = String(range.valueAsNumber / 100);
  range.setAttribute('aria-valuetext', `${range.value} % revision`);
}

let beat = null;
let alternated = null;

/** Shows the dummy and the revision in turn until `rest`; where motion is not wanted, the dummy alone. */
function alternate(overlay) {
  rest();
  alternated = overlay;
  const upper = overlay.querySelector('.upper');
  upper.style.opacity = '0';
  if (calm.matches) return;
  beat = setInterval(() => {
    upper.style.opacity = upper.style.opacity === '0' ? '1' : '0';
  }, ALTERNATE_MS);
}

function rest() {
  clearInterval(beat);
  if (alternated !== null) show(alternated.querySelector('.upper'), alternated.querySelector('input'));
  alternated = null;
}

function goTo(index) {
  const finding = findings[Math.min(findings.length - 1, Math.max(0, index))];
  if (finding === undefined) return;
  finding.focus({ preventScroll: true });
  finding.scrollIntoView({ block: 'start' });
}

document.addEventListener('focusin', (event) => {
  const finding = event.target instanceof Element ? event.target.closest('.finding') : null;
  if (finding !== null) last = findings.indexOf(finding);
});

document.addEventListener('keydown', (event) => {
  if (keysWanted === null || !keysWanted.checked || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target instanceof HTMLInputElement && event.target.type === 'range') return;
  if (event.key === 'j' || event.key === 'ArrowRight') goTo(last + 1);
  else if (event.key === 'k' || event.key === 'ArrowLeft') goTo(last - 1);
  else if (event.key === 'f' && !event.repeat) {
    const overlay = findings[last]?.querySelector('.overlay');
    if (overlay) {
      overlay.scrollIntoView({ block: 'nearest' });
      alternate(overlay);
    }
  } else return;
  event.preventDefault();
});

document.addEventListener('keyup', (event) => {
  if (event.key === 'f') rest();
});
window.addEventListener('blur', rest);
