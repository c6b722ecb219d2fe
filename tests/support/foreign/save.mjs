// Open and save workbooks by a JavaScript library: node save.mjs LIBRARY FROM TO [FROM TO …]; FROM and TO are .xlsx files.
// The libraries are looked for in the folder that DATUMBOOK_FOREIGN names, where `npm install` put them.
import { createRequire } from "node:module";

const { resolve } = createRequire(`${process.env.DATUMBOOK_FOREIGN}/package.json`);
const load = async (name) => (await import(resolve(name))).default;

const SAVE = {
  xlsx: async () => {
    const library = await load("xlsx");
    return (from, to) => library.writeFile(library.readFile(from, { cellFormula: true, cellStyles: true, cellNF: true }), to);
  },
  exceljs: async () => {
    const library = await load("exceljs");
    return async (from, to) => {
      const book = new library.Workbook();
      await book.xlsx.readFile(from);
      await book.xlsx.writeFile(to);
    };
  },
};

const [name, ...files] = process.argv.slice(2);
const save = await SAVE[name]();
for (let place = 0; place < files.length; place += 2) await save(files[place], files[place + 1]);
