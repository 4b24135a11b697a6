/** A piece that could be: its picture, and what is said of it. */

import { make, setImage } from './page.js';

/** As large as they are drawn; elsewhere they are stretched. */
export const PICTURE_PX = { width: 240, height: 200 };

/**
 * @param {string} svg
 * @param {string[]} says
 * @param {() => void} onTap
 */
export function makeTile(svg, says, onTap) {
  const picture = make('img', { className: 'variation-picture' });
  picture.alt = '';
  setImage(picture, svg);
  const button = make('button', { className: 'variation' }, picture,
    ...says.map((line) => make('span', { className: 'quiet', text: line })));
  button.type = 'button';
  button.addEventListener('click', onTap);
  return button;
}

/**
 * Takes all tiles away, and lets go of their pictures.
 * @param {HTMLElement} list
 */
export function clearTiles(list) {
  for (const picture of list.querySelectorAll('img')) setImage(picture, '');
  list.replaceChildren();
}
