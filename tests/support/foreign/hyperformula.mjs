// Works a workbook out by HyperFormula: standard input is {"sheets": {name: rows of contents}, "typed": [[sheet, row, column, content], …]}
// with rows and columns counted from 0; standard output is {name: rows of values}, an error as {"error": "#DIV/0!"}.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const { resolve } = createRequire(`${process.env.DATUMBOOK_FOREIGN}/package.json`);
const { HyperFormula, DetailedCellError } = (await import(resolve("hyperformula"))).default;

const { sheets, typed } = JSON.parse(readFileSync(0, "utf8"));
const book = HyperFormula.buildFromSheets(sheets, { licenseKey: "gpl-v3", useArrayArithmetic: true });
book.suspendEvaluation();
for (const [sheet, row, col, content] of typed) book.setCellContents({ sheet: book.getSheetId(sheet), row, col }, [[content]]);
book.resumeEvaluation();
const plain = (value) => (value instanceof DetailedCellError ? { error: value.value } : value);
const values = Object.entries(book.getAllSheetsValues()).map(([name, rows]) => [name, rows.map((row) => row.map(plain))]);
process.stdout.write(JSON.stringify(Object.fromEntries(values)));
