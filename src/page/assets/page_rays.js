// @ts-check
// The fan of rays in the place of the section, where there is an engine to trace them.

/** What is shown, or asked for. */
let raysFor = '';
const drawRays = async () => {
  const on = $('rays-button').getAttribute('aria-pressed') === 'true';
  $('hops').hidden = on;
  $('rays').hidden = !on;
  if (!on) return;
  const wanted = [state.way, state.hour, state.band, JSON.stringify(change)].join(' ');
  if (wanted === raysFor) return;
  raysFor = wanted;
  if (!opened && !(await openTrip(false))) return;
  const reply = /** @type {any} */ (await engine.ask({ do: 'rays', way: state.way, hour: state.hour, band: state.band }));
  // Whoever has chosen on meanwhile gets the later answer.
  if (wanted !== raysFor || failed(reply)) return;
  $('rays').innerHTML = reply.svg;
  $('rays-text').textContent = reply.text;
  say(reply.text);
};
if (engine.able) {
  $('rays-button').hidden = false;
  $('rays-button').addEventListener('click', () => {
    $('rays-button').setAttribute('aria-pressed', String($('rays-button').getAttribute('aria-pressed') !== 'true'));
    $('rays-text').textContent = '';
    raysFor = '';
    drawRays();
  });
}
