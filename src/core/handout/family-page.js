// SPDX-License-Identifier: GPL-3.0-or-later
'use strict';
(() => {
  const all = (query, from) => Array.from((from || document).querySelectorAll(query));
  const one = (id) => document.getElementById(id);
  const things = all('article');
  const property = document.body.dataset.catalogue;
  const place = 'shedwalk-choice-' + property;
  // The sentences stand in the page, in its language.
  const words = document.body.dataset;
  const fill = (sentence, ...values) => values.reduce((text, value) => text.replace(/%[ds]/, () => value), sentence);

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
    one('count').textContent = fill(words.sayCount, done, things.length);
    one('line').value = whole().join('; ');
    one('kept').textContent = kept ? words.sayKept : words.sayNotKept;
  };
  const ready = () => {
    if (!one('by').value.trim()) {
      say(words.sayNameFirst);
      one('by').focus();
      return false;
    }
    if (answers().length === 0) {
      say(words.sayNoAnswer);
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
    say(fill(words.sayMade, link.download));
  });
  one('copy').addEventListener('click', async () => {
    if (!ready())
      return;
    try {
      await navigator.clipboard.writeText(one('line').value);
    } catch (refused) {
      one('line').select();
      if (!document.execCommand('copy')) {
        say(words.sayMark);
        return;
      }
    }
    say(words.sayCopied);
  });
  recall();
  show();
  document.body.dataset.ready = 'yes';
})();
