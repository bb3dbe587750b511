// @ts-check
// The beam of grams by mouse, touch and keyboard: the notch that is the limit, and what becomes of a thing.

let dragging = false;
let thing = '';
/** @type {boolean[]} */
const folds = [];

/** @param {string} id */
const wishOf = (id) => (change.must_go.includes(id) ? 'must' : change.not_mine.includes(id) ? 'not' : '');

/** What the script adds to the beam's markup; asked again when the beam is new. */
const dressBeam = () => {
  const limit = $('limit');
  if (!limit) return;
  limit.hidden = !engine.able;
  all('.railtext .stepper').forEach((button) => { button.hidden = !engine.able; });
  // On a narrow screen the lists wait to be asked for; they stay as they were left.
  all('.folds').forEach((list, i) => { list.open = folds[i] === undefined ? innerWidth >= 600 : folds[i]; });
  const picks = all('.pick[data-thing]');
  picks.forEach((pick, i) => {
    const id = pick.dataset.thing;
    pick.setAttribute('role', 'button');
    pick.tabIndex = id === thing || (i === 0 && !picks.some((other) => other.dataset.thing === thing)) ? 0 : -1;
    pick.classList.toggle('must', wishOf(id) === 'must');
    pick.classList.toggle('not', wishOf(id) === 'not');
  });
  all('[data-thing]').forEach((element) => element.classList.toggle('chosen', element.dataset.thing === thing));
};

/** @param {string} id */
const chooseThing = (id) => {
  thing = id;
  dressBeam();
  const pick = all('.pick[data-thing]').find((element) => element.dataset.thing === id);
  const why = all('[data-why]').find((element) => element.dataset.why === id);
  $('thing').hidden = !pick;
  if (!pick) return;
  $('thing-name').textContent = pick.querySelector('bdi').textContent + ', ' + pick.querySelector('small').textContent + '.';
  $('thing-why').textContent = why ? why.textContent : '';
  $('wish').hidden = !engine.able;
  $('thing-hint').hidden = engine.able;
  all('input[name=wish]').forEach((radio) => { radio.checked = radio.value === wishOf(id); });
  say($('thing-name').textContent + ' ' + $('thing-why').textContent);
};

/** @param {string} wish */
const wishFor = (wish) => {
  const others = (/** @type {string[]} */ list) => list.filter((id) => id !== thing);
  changeTo({
    must_go: wish === 'must' ? others(change.must_go).concat(thing) : others(change.must_go),
    not_mine: wish === 'not' ? others(change.not_mine).concat(thing) : others(change.not_mine),
  });
};

/** The notch follows the hand at once, the answer as soon as it is there. */
const moveNotch = () => {
  const limit = $('limit');
  $('limit-text').textContent = 'limit ' + mass(Number(limit.value));
  const share = Number(limit.value) / Number(limit.max);
  all('.beam').forEach((svg) => {
    const line = svg.querySelector('.limit');
    if (!line) return;
    const wide = svg.viewBox.baseVal.width;
    // The margin that the beam leaves on either side.
    const x = 22 + (wide - 44) * share;
    line.setAttribute('d', line.getAttribute('d').replace(/M[\d.]+/, 'M' + x.toFixed(1)));
  });
};

/** @param {number} grams */
const setLimit = (grams) => {
  const limit = $('limit');
  limit.value = String(grams);
  moveNotch();
  changeTo({ limit_g: Number(limit.value) });
};

const wireBeam = () => {
  const box = $('grams');
  box.addEventListener('input', (/** @type {any} */ event) => {
    if (event.target.id !== 'limit') return;
    moveNotch();
    if (dragging) {
      change = Object.assign({}, change, { limit_g: Number(event.target.value) });
      work();
    }
  });
  box.addEventListener('pointerdown', (/** @type {any} */ event) => {
    if (event.target.id !== 'limit' ) return;
    dragging = true;
    former.push(change);
  });
  box.addEventListener('change', (/** @type {any} */ event) => {
    if (event.target.name === 'wish') wishFor(event.target.value);
    if (event.target.id !== 'limit') return;
    const dragged = dragging;
    dragging = false;
    if (dragged) former.pop();
    setLimit(Number(event.target.value));
  });
  ['pointerup', 'pointercancel'].forEach((name) => window.addEventListener(name, () => {
    if (!dragging) return;
    dragging = false;
    // No change came of it where the notch was only touched.
    setTimeout(() => { if (again || asking) again = true; }, 0);
  }));
  box.addEventListener('toggle', () => all('.folds').forEach((list, i) => { folds[i] = list.open; }), true);
  box.addEventListener('click', (/** @type {any} */ event) => {
    const step = event.target.closest('[data-step]');
    if (step) setLimit(Number($('limit').value) + Number(step.dataset.step));
    const hit = event.target.closest('[data-thing]');
    if (hit) chooseThing(hit.dataset.thing);
  });
  box.addEventListener('keydown', (/** @type {any} */ event) => {
    const pick = event.target.closest('.pick');
    if (!pick) return;
    const picks = all('.pick[data-thing]').filter((element) => element.offsetParent);
    const by = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 })[event.key];
    let next = by ? picks[(picks.indexOf(pick) + by + picks.length) % picks.length] : null;
    if (event.key === 'Home') next = picks[0];
    if (event.key === 'End') next = picks[picks.length - 1];
    if (event.key === 'Enter' || event.key === ' ') next = pick;
    if (!next) return;
    event.preventDefault();
    chooseThing(next.dataset.thing);
    next.focus();
  });
};
