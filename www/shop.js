/** The turner's own shop: what new designs begin with, and in what the open design is of another one. */

import { ask } from './door.js';
import { byId, make, makeButton } from './page.js';
import { say } from './say.js';
import { word } from './words.js';
import { design, isGuest, keep, startingDesign, take } from './work.js';

/** @type {{ box: HTMLElement, says: HTMLElement, takeIt: HTMLElement }[]} */
const lines = [];

/** What a shop is as long as none was kept. @type {unknown} */
let usual = null;

/** A line wherever the shop's fields stand. */
export function setUpShop() {
  for (const box of document.querySelectorAll('[data-shop]')) {
    if (!(box instanceof HTMLElement)) continue;
    const says = make('p', { className: 'quiet' });
    const keepIt = makeButton(word('shop.keep'), () => void keepShop());
    const takeIt = makeButton(word('shop.take'), () => {
      take(ask((library) => library.with_shop(design(), ownOrUsual())));
    });
    box.append(says, make('p', { className: 'actions' }, keepIt, takeIt));
    lines.push({ box, says, takeIt });
    box.closest('details')?.addEventListener('toggle', showShop);
  }
  // Another tab may have kept one.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void keep.readShop().then(showShop);
  });
}

function ownOrUsual() {
  if (keep.ownShop !== null) return keep.ownShop;
  usual ??= ask((library) => library.shop_of(startingDesign()));
  return usual;
}

async function keepShop() {
  const isDown = await keep.keepShop(ask((library) => library.shop_of(design())));
  say(word(isDown ? 'shop.kept' : 'shop.no_room'));
  showShop();
}

/** Tells what is other than in the turner's shop, where that can be seen. */
export function showShop() {
  const seen = lines.filter(({ box }) => box.closest('details')?.open ?? isGuest());
  if (seen.length === 0) return;
  const told = ask((library) => library.shop_says(design(), ownOrUsual()));
  for (const { box, says, takeIt } of seen) {
    takeIt.hidden = keep.ownShop === null;
    box.hidden = told === '';
    says.textContent = keep.ownShop === null ? word('shop.first') : told;
  }
  byId('guest-shop', HTMLElement).hidden = told === '' || keep.ownShop === null;
}
