// Hands a text out as a file. A table begins with the mark by which a spreadsheet knows its letters.
export function save(name, type, text) {
  const mark = type === "text/csv" ? ["\ufeff"] : [];
  const file = new Blob([...mark, text], { type: `${type};charset=utf-8` });
  const address = URL.createObjectURL(file);
  Object.assign(document.createElement("a"), { href: address, download: name }).click();
  URL.revokeObjectURL(address);
}
