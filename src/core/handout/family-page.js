// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';
(() => {
  const all = (query, from) => Array.from((from || document).querySelectorAll(query));
  const one = (id) => document.getElementById(id);
  const things = all('article');
  const property = document.body.dataset.catalogue;
  const place = 'shedwalk-choice-' + property;

  // What a person wrote, as one field of the answers: no separator, no line break, no control character.
  const field = (text) => text.replace(/\r\n?/g, '\n').replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g, ' ').trim()
    .replace(/%/g, '%25').replace(/;/g, '%3B').replace(/\n/g, '%0A');

  const answerOf = (thing) => {
    const said = thing.querySelector('input:checked');
    const remark = field(thing.querySelector('.remark').value);
    const number = thing.dataset.number;
    if (!said && !remark)
      return null;
    return number + (said ? ' ' + said.value : '') + (remark ? ': ' + remark : '');
  };
  const answers = () => {
    const lines = things.map(answerOf).filter((line) => line !== null);
    for (const box of all('.question')) {
      const text = field(box.value);
      if (text)
        lines.push('q' + box.dataset.question + ': ' + text);
    }
    return lines;
  };
  const whole = () => ['shedwalk answers 1', 'catalogue ' + property, 'at ' + new Date().toISOString(),
    'by ' + field(one('by').value.replace(/\s+/g, ' '))].concat(answers());

  let kept = true;
  const keep = () => {
    const state = {};
    for (const box of all('textarea:not([readonly]), input[type=text]'))
      state[box.id] = box.value;
    for (const choice of all('input:checked'))
      state[choice.id] = true;
    try {
      localStorage.setItem(place, JSON.stringify(state));
      kept = true;
    } catch (refused) {
      kept = false;
    }
  };
  const recall = () => {
    let state = null;
    try {
      state = JSON.parse(localStorage.getItem(place));
    } catch (refused) {
      kept = false;
    }
    for (const [id, value] of Object.entries(state || {})) {
      const box = one(id);
      if (box && box.type === 'radio')
        box.checked = true;
      else if (box && typeof value === 'string')
        box.value = value;
    }
  };
  const say = (text) => { one('told').textContent = text; };
  const show = () => {
    let done = 0;
    for (const thing of things) {
      const is = answerOf(thing) !== null;
      thing.classList.toggle('done', is);
      done += is ? 1 : 0;
    }
    one('count').textContent = done + ' of ' + things.length + ' answered';
    one('line').value = whole().join('; ');
    one('kept').textContent = kept ? 'What you enter is kept in this browser until you are done.'
      : 'This browser keeps nothing: finish before you close the page.';
  };
  const ready = () => {
    if (!one('by').value.trim()) {
      say('Please enter your name first.');
      one('by').focus();
      return false;
    }
    if (answers().length === 0) {
      say('There is no answer yet.');
      return false;
    }
    show();
    return true;
  };

  document.addEventListener('input', () => { keep(); show(); });
  document.addEventListener('click', (event) => {
    if (!event.target.classList.contains('clear'))
      return;
    for (const choice of all('input:checked', event.target.closest('article')))
      choice.checked = false;
    keep();
    show();
  });
  one('save').addEventListener('click', () => {
    if (!ready())
      return;
    const link = document.createElement('a');
    const name = one('by').value.normalize('NFKD').replace(/[^A-Za-z0-9]+/g, '-').slice(0, 40) || 'family';
    link.href = URL.createObjectURL(new Blob([whole().join('\n') + '\n'], { type: 'text/plain' }));
    link.download = 'answers-' + name + '.txt';
    link.click();
    say('The file ' + link.download + ' was made; send it back.');
  });
  one('copy').addEventListener('click', async () => {
    if (!ready())
      return;
    try {
      await navigator.clipboard.writeText(one('line').value);
    } catch (refused) {
      one('line').select();
      if (!document.execCommand('copy')) {
        say('Mark the text below and copy it.');
        return;
      }
    }
    say('Copied; paste it into a message.');
  });
  recall();
  show();
  document.body.dataset.ready = 'yes';
})();
