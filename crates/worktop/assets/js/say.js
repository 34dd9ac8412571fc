// The line on top of a page that says what was just done, or that something could not be done.

/**
 * @param {string} text
 * @param {'done' | 'wrong'} [how]
 */
export function say(text, how = 'done') {
  const said = document.querySelector('.said');
  if (!said) return;
  const line = document.createElement('p');
  line.textContent = text;
  if (how === 'wrong') line.className = 'wrong-said';
  said.replaceChildren(line);
}
