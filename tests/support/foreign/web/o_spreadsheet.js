// Opens the parts of an .xlsx file in o-spreadsheet, types, and hands out what cells show and what it would save.
// Rows and columns are counted from 0. What is typed in vain is missing from what is saved.
async function work(files, typed, wanted) {
  const book = new o_spreadsheet.Model(files);
  const sheets = Object.fromEntries(book.getters.getSheetIds().map((id) => [book.getters.getSheetName(id), id]));
  for (const [sheet, row, col, content] of typed) book.dispatch("UPDATE_CELL", { sheetId: sheets[sheet], col, row, content });
  const shows = (sheet, row, col) => {
    const { type, value } = book.getters.getEvaluatedCell({ sheetId: sheets[sheet], col, row });
    return type === "error" ? { error: value } : value;
  };
  const values = wanted.map((place) => shows(...place));
  const saved = (await book.exportXLSX()).files;
  return { values, saved: saved.map(({ path, content, imageSrc }) => [path, content ?? imageSrc]) };
}
