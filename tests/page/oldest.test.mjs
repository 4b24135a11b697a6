// The oldest engines that have all that the page needs, by what the browsers' makers and MDN know of each feature
// (npm package @mdn/browser-compat-data), and that the README names them. No engine that old is tried.
//
// What is needed is read from the scripts themselves: TypeScript tells of each name in them which part of the
// language or of the browser it stands for. What the library is compiled to names its features itself.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import ts from 'typescript';
import { builtFolder, projectRoot } from './browser.mjs';

const data = createRequire(import.meta.url)('@mdn/browser-compat-data');

/** @typedef {{ support: Record<string, any> }} Compat */
/** @typedef {[name: string, found: Compat | undefined]} Need */

/** As the data calls them, and as the README does. */
const ENGINES = [['chrome', 'Chromium'], ['firefox', 'Firefox'], ['safari', 'Safari']];

/**
 * What is looked for before it is used, or may fail and is caught; and what older engines have but for a case that
 * does not come up here (keys held down together; fields that use what surrounds them).
 */
const DONE_WITHOUT = new RegExp([
  'Navigator\\.(share|canShare|wakeLock|userActivation)', 'WakeLock', 'UserActivation',
  'KeyboardEvent\\.repeat$', 'classes\\.public_class_fields$',
].map((name) => `^${name}`).join('|'), 'u');

/** What TypeScript calls by a name of its own. @type {Record<string, string>} */
const OWNERS = {
  CanvasDrawImage: 'CanvasRenderingContext2D', CanvasFillStrokeStyles: 'CanvasRenderingContext2D', CanvasRect: 'CanvasRenderingContext2D',
  Body: 'Response', ChildNode: 'Element', DocumentOrShadowRoot: 'Document', ElementContentEditable: 'HTMLElement',
  ElementCSSInlineStyle: 'HTMLElement', HTMLCollectionBase: 'HTMLCollection', HTMLHyperlinkElementUtils: 'HTMLAnchorElement',
  HTMLOrSVGElement: 'HTMLElement', Console: 'console', MessageEventTarget: 'MessagePort', NavigatorLanguage: 'Navigator', NodeListOf: 'NodeList', HTMLCollectionOf: 'HTMLCollection',
  NonElementParentNode: 'Document', ParentNode: 'Element', NavigatorID: 'Navigator', NavigatorOnLine: 'Navigator',
};

/** What every engine has, and the data does not list: names of the page's own, prototypes, parts of what is listed. */
const EVERYWHERE = /^(DOMStringMap\.__index|\w+\.prototype|get|toString|WebAssembly|TextEncoderEncodeIntoResult\.\w+)$/u;

/** Syntax that is younger than modules are. @type {Record<string, (node: ts.Node) => boolean>} */
const SYNTAX = {
  'operators.nullish_coalescing': (node) => ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.QuestionQuestionToken,
  'operators.nullish_coalescing_assignment': (node) => ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.QuestionQuestionEqualsToken,
  'operators.logical_or_assignment': (node) => ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.BarBarEqualsToken,
  'operators.optional_chaining': (node) => ts.isOptionalChain(node),
  'operators.import': (node) => ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword,
  'operators.import_meta': (node) => ts.isMetaProperty(node),
  'classes.private_class_fields': (node) => ts.isPrivateIdentifier(node),
  'classes.public_class_fields': (node) => ts.isPropertyDeclaration(node),
  'classes.static_initialization_blocks': (node) => ts.isClassStaticBlockDeclaration(node),
  'operators.await.top_level': (node) => ts.isAwaitExpression(node) && !ts.findAncestor(node, (each) => ts.isFunctionLike(each)),
  'regular_expressions.lookbehind_assertion': (node) => ts.isRegularExpressionLiteral(node) && /\(\?<[=!]/u.test(node.text),
  'regular_expressions.named_capturing_group': (node) => ts.isRegularExpressionLiteral(node) && /\(\?<\w/u.test(node.text),
  'regular_expressions.unicode_character_class_escape': (node) => ts.isRegularExpressionLiteral(node) && /\\p\{/iu.test(node.text),
};

/** What the compiler calls a feature, and the data. @type {Record<string, string | null>} */
const WASM = {
  'bulk-memory': 'bulk-memory-operations', 'bulk-memory-opt': 'bulk-memory-operations', 'multivalue': 'multi-value',
  'nontrapping-fptoint': 'non-trapping-float-to-int-conversions', 'reference-types': 'reference-types',
  'sign-ext': 'sign-extension-operations', 'call-indirect-overlong': 'reference-types',
  // As old as WebAssembly's threads' first step: of no browser's data, and before all of these.
  'mutable-globals': null,
};

/** @param {string} path @param {any} [within] @returns {Compat | undefined} */
function at(path, within = data) {
  return path.split('.').reduce((part, name) => part?.[name], within)?.__compat;
}

/** The oldest version that has all of a feature. @param {Compat} compat @param {string} engine */
function since(compat, engine) {
  const told = [compat.support[engine]].flat();
  const whole = told.filter((each) => !each.flags && !each.prefix && !each.alternative_name && !each.version_removed);
  const versions = whole.map(({ version_added: added }) => Number.parseFloat(String(added).replace('≤', '')));
  const version = Math.min(...versions.filter((each) => each > 0));
  assert.ok(Number.isFinite(version), `${engine} has none of ${JSON.stringify(told)}`);
  return version;
}

/** @param {string} owner @param {string} name @returns {Compat | undefined} */
function known(owner, name) {
  const own = OWNERS[owner] ?? owner.replace(/Constructor$/u, '').replace(/^Readonly/u, '');
  const event = /^on[a-z]/u.test(name) ? `${name.slice(2)}_event` : name;
  const property = name.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`);
  if (own === 'CSSStyleDeclaration') return at(`api.${own}.${name}`) ?? at(`css.properties.${property}`);
  const places = own === ''
    ? [`api.${name}`, `javascript.builtins.${name}`, `api.Window.${name}`, `api.EventTarget.${name}`,
      `webassembly.api.${name}`, `webassembly.api.${name}_static`]
    : [own, 'Window', 'Element', 'HTMLElement', 'Node', 'EventTarget', 'TypedArray'].flatMap((each) => [
      `api.${each}.${event}`, `javascript.builtins.${each}.${name}`, `api.${each}.${name}_static`, `webassembly.api.${each}.${name}`]);
  return places.map((place) => at(place)).find(Boolean);
}

/** @param {ts.Node} node @returns {node is ts.InterfaceDeclaration | ts.VariableDeclaration} */
function isOwner(node) {
  return ts.isInterfaceDeclaration(node) || ts.isVariableDeclaration(node);
}

/** @param {string} project */
function scriptsOf(project) {
  const host = { ...ts.sys, onUnRecoverableConfigFileDiagnostic: (/** @type {any} */ fault) => assert.fail(String(fault.messageText)) };
  const config = ts.getParsedCommandLineOfConfigFile(join(projectRoot, 'tests/page', project), {}, host);
  assert.ok(config);
  return ts.createProgram(config.fileNames, config.options);
}

/** What the build makes beside the library. */
function glue() {
  const lib = ['lib.es2022.d.ts', 'lib.dom.d.ts'];
  return ts.createProgram([join(builtFolder, 'ringwright.js')], { allowJs: true, noEmit: true, target: ts.ScriptTarget.ES2022, lib, types: [] });
}

/** Every name in the scripts that the language or the browser brings. @param {ts.Program} program @returns {Need[]} */
function needsOf(program) {
  const checker = program.getTypeChecker();
  /** @type {Map<string, Compat | undefined>} */
  const needs = new Map();
  /** @param {ts.Node} node */
  const look = (node) => {
    for (const [name, isIt] of Object.entries(SYNTAX)) {
      if (isIt(node)) needs.set(name, at(`javascript.${name}`));
    }
    const symbol = ts.isIdentifier(node) ? checker.getSymbolAtLocation(node) : undefined;
    for (const declared of symbol?.declarations ?? []) {
      if (!program.isSourceFileDefaultLibrary(declared.getSourceFile())) continue;
      const owner = ts.findAncestor(declared.parent, isOwner)?.name.getText() ?? '';
      const name = symbol?.name ?? '';
      if (EVERYWHERE.test(owner ? `${owner}.${name}` : name)) continue;
      needs.set(owner ? `${owner}.${name}` : name, known(owner, name));
    }
    ts.forEachChild(node, look);
  };
  for (const file of program.getSourceFiles()) {
    if (!file.isDeclarationFile) look(file);
  }
  return [...needs];
}

/** What the library is compiled to, by its own account. @returns {Promise<Need[]>} */
async function needsOfTheLibrary() {
  const wasm = await WebAssembly.compile(await readFile(join(builtFolder, 'ringwright_bg.wasm')));
  const [section] = WebAssembly.Module.customSections(wasm, 'target_features');
  assert.ok(section, 'the library names its features');
  const names = new TextDecoder().decode(section).match(/(?<=\+.)[a-z][a-z-]+/gsu) ?? [];
  assert.ok(names.length > 4, names.join());
  return names.flatMap((name) => {
    assert.ok(name in WASM, `a feature that is not looked up: ${name}`);
    const called = WASM[name];
    return called ? [/** @type {Need} */ ([name, at(`webassembly.${called}`)])] : [];
  });
}

test('the README names the oldest engines that have all that the page needs', async (t) => {
  const needs = [
    ...['tsconfig.page.json', 'tsconfig.worker.json'].flatMap((project) => needsOf(scriptsOf(project))),
    ...needsOf(glue()), ...await needsOfTheLibrary(),
  ].filter(([name]) => !DONE_WITHOUT.test(name));
  assert.ok(needs.length > 300, `only ${needs.length} features are used`);
  assert.deepEqual(needs.filter(([, found]) => !found).map(([name]) => name), [], 'nothing is known of these');
  const oldest = ENGINES.map(([engine = '', called]) => {
    const all = needs.map(([name, found]) => /** @type {const} */ ([name, since(/** @type {Compat} */ (found), engine)]));
    const version = Math.max(...all.map(([, each]) => each));
    t.diagnostic(`${called} ${version} is the first with ${all.filter(([, each]) => each === version).map(([name]) => name).join(', ')}`);
    return `${called} ${version}`;
  });
  const readme = (await readFile(join(projectRoot, 'README.md'), 'utf8')).replace(/\s+/gu, ' ');
  const [first, second, third] = oldest;
  assert.ok(readme.includes(`${first}, ${second} and ${third}`), `the README does not name ${oldest.join(', ')}`);
  const { version } = data.__meta;
  assert.ok(readme.includes(`@mdn/browser-compat-data ${version}`), `the README does not name the data's version, ${version}`);
});
