import start, { evaluate, classify } from './barrowmix_api.js';
await start();
const [slider, share, kind, pores, issue] = ['compost', 'share', 'class', 'pores', 'issue'].map((id) => document.getElementById(id));
slider.oninput = () => {
  const answer = evaluate({
    barrowmix: 1, ground: { sand_pct: 20, silt_pct: 25, clay_pct: 55 }, soil: { value: 40, unit: 'L' },
    additions: [{ material: 'yard_compost', amount: { value: slider.valueAsNumber, unit: '%v' } }],
  });
  share.textContent = slider.ariaValueText = slider.value + ' %';
  issue.textContent = answer.ok ? '' : answer.issues[0].text;
  if (!answer.ok) return;
  const { texture, pore_space_pct: { settled } } = answer.outcome;
  kind.textContent = classify(...['sand_pct', 'silt_pct', 'clay_pct'].map((part) => texture[part].typical)).class.name;
  pores.textContent = `${settled.typical.toFixed()} %, nine in ten between ${settled.low.toFixed()} and ${settled.high.toFixed()}`;
};
slider.oninput();
