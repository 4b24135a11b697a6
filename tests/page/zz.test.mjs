import { test } from 'node:test';
import { visit, settled } from './harness.mjs';
import { openFold } from './hands.mjs';
import fs from 'node:fs';
test('look', () => visit('tablet', async (page) => {
  await page.click('[data-place=vessel]');
  await page.click('[data-start=vase]');
  await page.click('[data-place=inlay]');
  await page.waitForTimeout(300);
  const add = page.locator('#inlay-empty button, button', { hasText: /set|slots/i });
  fs.writeFileSync('/tmp/buttons.txt', (await page.locator('button:visible').allInnerTexts()).join('|'));
  await add.first().click().catch(() => {});
  await page.click('[data-place=bench]');
  const ids = await page.locator('.step').evaluateAll((all) => all.map((each) => each.dataset.step));
  let out = '';
  for (const id of ids) {
    const step = page.locator(`[data-step="${id}"]`);
    const t = step.locator('.step-title');
    if (await t.getAttribute('aria-expanded') !== 'true') await t.click();
    out += `\n## ${id}: ${await t.innerText()}\n${await step.locator('.step-words').innerText()}\n`;
  }
  fs.writeFileSync('/tmp/steps.txt', out);
  await openFold(page, 'bench-plug');
  fs.writeFileSync('/tmp/plug.txt', await page.locator('#bench-plug').innerText());
  await settled(page);
  await page.locator('[data-step="block-foot"]').scrollIntoViewIfNeeded();
  await page.screenshot({ path: '/tmp/look1.png' });
  await page.locator('[data-step^="round-"]').first().scrollIntoViewIfNeeded();
  await page.screenshot({ path: '/tmp/look2.png' });
  await page.locator('#bench-plug').scrollIntoViewIfNeeded();
  await page.screenshot({ path: '/tmp/look3.png' });
}));
