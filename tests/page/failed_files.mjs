// A reporter for `cargo verify`: a line for each file with a failed test, so that those are tried once more.

/** @param {AsyncIterable<{ type: string, data: { file?: string } }>} source */
export default async function* failedFiles(source) {
  const told = new Set();
  for await (const { type, data } of source) {
    if (type === 'test:fail' && data.file && !told.has(data.file)) {
      told.add(data.file);
      yield `${data.file}\n`;
    }
  }
}
