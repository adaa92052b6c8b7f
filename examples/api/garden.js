import start, { evaluate } from './barrowmix_api.js';

const at = (id) => document.getElementById(id);
const told = ({ low, typical, high }) => `${typical.toFixed()} %, nine in ten between ${low.toFixed()} and ${high.toFixed()}`;
const show = () => {
  const compost = { material: 'yard_compost', amount: { value: at('compost').valueAsNumber, unit: '%v' } };
  const ground = { sand_pct: 20, silt_pct: 25, clay_pct: 55 };
  const answer = evaluate({ barrowmix: 1, ground, soil: { value: 40, unit: 'L' }, additions: [compost] });
  at('share').textContent = at('compost').ariaValueText = at('compost').value + ' %';
  at('issue').textContent = answer.ok ? '' : answer.issues[0].text;
  if (!answer.ok) return;
  const { texture, pore_space_pct, cautions } = answer.outcome;
  const classes = Object.entries(texture.class_odds).sort(([, one], [, other]) => other - one);
  at('class').textContent = classes.map(([id, odds]) => `${id.replaceAll('_', ' ')} ${Math.round(odds * 100)} %`).join(', ');
  at('pores').textContent = told(pore_space_pct.settled);
  at('cautions').replaceChildren(...cautions.map(({ text }) => Object.assign(document.createElement('li'), { textContent: text })));
};
start().then(() => { at('compost').oninput = show; show(); }, () => { at('issue').textContent = 'The library could not be loaded.'; });
