/**
 * A head, facts and one table as a PDF: what is handed to people outside who do not sign in here.
 *
 * The letters come with the product (dejavu-fonts-ttf: Latin, Greek, Cyrillic) and are put into the file, so that
 * a reader needs none and nothing is fetched. What the letters do not have is drawn as an empty box.
 *
 * The file is tagged (ISO 32000-1, 14.8): headings, facts as a list, the table with its heads, so that it can be heard
 * as well as seen. What is there for the eye only (lines, heads and titles again on further pages, page numbers) is an
 * artifact.
 */
import path from "node:path";
import PDFDocument from "pdfkit";

export interface DocumentColumn {
  head: string;
  /** Part of the width between the margins; those of all columns add up to 1. */
  share: number;
  align?: "left" | "right";
}

export interface TableDocument {
  /** On every page, and the document's title. */
  title: string;
  /** Language of its texts, such as "de-DE": a screen reader asks for it. */
  locale: string;
  facts: readonly { label: string; value: string }[];
  columns: readonly DocumentColumn[];
  rows: readonly (readonly string[])[];
  /** Below the table, each on a line of its own, strong. */
  sums: readonly string[];
  /** At the end, in plain letters. */
  notes: readonly string[];
  pageWords: (page: number, pages: number) => string;
  /** At the foot of every page, left. */
  foot: string;
  madeAt: number;
}

const LETTERS = path.join(/*turbopackIgnore: true*/ process.cwd(), "node_modules", "dejavu-fonts-ttf", "ttf");
const PLAIN = path.join(LETTERS, "DejaVuSansCondensed.ttf");
const STRONG = path.join(LETTERS, "DejaVuSansCondensed-Bold.ttf");

/** Points: 72 to the inch. Room for a hole punch on the left. */
const EDGE = { left: 57, right: 42, top: 42, bottom: 48 };
const SIZE = { title: 16, text: 9, small: 8 };
/** Room around the text of a cell. */
const PAD = { x: 4, y: 3.5 };
const INK = "#1b2126";
const FAINT = "#5a646c";
const RULE = "#b9c1c7";

type Paper = PDFKit.PDFDocument;
type Part = ReturnType<Paper["struct"]>;
/** The library's own types do not name the scope of a head yet. */
type PartOptions = NonNullable<Parameters<Paper["struct"]>[1]> & { scope?: "Column" };

/** A part of the document that holds parts. */
function partOf(paper: Paper, under: Part, role: string): Part {
  const part = paper.struct(role);
  under.add(part);
  return part;
}

/** A part of the document that holds what `draw` draws. */
function say(paper: Paper, under: Part, role: string, draw: () => void, options: PartOptions = {}): void {
  under.add(paper.struct(role, options, draw));
}

/** What is drawn for the eye only. */
function ornament(paper: Paper, type: "Layout" | "Pagination", draw: () => void): void {
  paper.markContent("Artifact", { type });
  draw();
  paper.endMarkedContent();
}

/** @returns the bytes of an A4 file; the table goes on over as many pages as it needs, its head on each */
export function tableDocument(sheet: TableDocument): Promise<Uint8Array> {
  const paper = new PDFDocument({
    size: "A4",
    margins: { ...EDGE, bottom: 0 },
    bufferPages: true,
    pdfVersion: "1.7",
    tagged: true,
    font: PLAIN,
    lang: sheet.locale,
    displayTitle: true,
    info: { Title: sheet.title, Creator: "Bothends", CreationDate: new Date(sheet.madeAt) },
  });
  const done = bytesOf(paper);
  const whole = paper.struct("Document");
  paper.addStructure(whole);
  let y = drawHead(paper, whole, sheet);
  y = drawTable(paper, whole, sheet, y);
  drawEnd(paper, whole, sheet, y);
  numberPages(paper, sheet);
  paper.end();
  return done;
}

function bytesOf(paper: Paper): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    paper.on("data", (part: Buffer) => parts.push(part));
    paper.on("end", () => resolve(Buffer.concat(parts)));
    paper.on("error", reject);
  });
}

const widthOf = (paper: Paper): number => paper.page.width - EDGE.left - EDGE.right;
const lastLine = (paper: Paper): number => paper.page.height - EDGE.bottom;

/** Title and facts of the first page. */
function drawHead(paper: Paper, whole: Part, sheet: TableDocument): number {
  const width = widthOf(paper);
  say(paper, whole, "H1", () =>
    paper.font(STRONG).fontSize(SIZE.title).fillColor(INK).text(sheet.title, EDGE.left, EDGE.top, { width }),
  );
  let { y } = paper;
  y += 8;
  const labelWidth = width * 0.24;
  const facts = partOf(paper, whole, "L");
  for (const { label, value } of sheet.facts) {
    const fact = partOf(paper, facts, "LI");
    const room = { width: width - labelWidth };
    paper.font(PLAIN).fontSize(SIZE.text);
    say(paper, fact, "Lbl", () => paper.fillColor(FAINT).text(label, EDGE.left, y, { width: labelWidth }));
    const below = paper.y;
    say(paper, fact, "LBody", () => paper.fillColor(INK).text(value, EDGE.left + labelWidth, y, room));
    y = Math.max(below, paper.y) + 2;
  }
  return y + 10;
}

function drawTable(paper: Paper, whole: Part, sheet: TableDocument, from: number): number {
  const heads = sheet.columns.map((c) => c.head);
  const table = partOf(paper, whole, "Table");
  let y = drawRow(paper, sheet, heads, from, STRONG, table);
  for (const [i, row] of sheet.rows.entries()) {
    // The last row takes the sums along: no page holds sums alone.
    const after = i === sheet.rows.length - 1 ? endHeight(paper, sheet) : 0;
    if (y + rowHeight(paper, sheet, row, PLAIN) + after > lastLine(paper)) {
      const top = nextPage(paper, sheet);
      ornament(paper, "Pagination", () => {
        y = drawRow(paper, sheet, heads, top, STRONG);
      });
    }
    y = drawRow(paper, sheet, row, y, PLAIN, table);
  }
  return y;
}

/** A further page with the title in small at its top. */
function nextPage(paper: Paper, sheet: TableDocument): number {
  paper.addPage();
  paper.font(STRONG).fontSize(SIZE.text).fillColor(INK);
  ornament(paper, "Pagination", () =>
    paper.text(sheet.title, EDGE.left, EDGE.top, { width: widthOf(paper) }),
  );
  return paper.y + 8;
}

function cellsOf(paper: Paper, sheet: TableDocument) {
  let x = EDGE.left;
  return sheet.columns.map((c) => {
    const width = widthOf(paper) * c.share;
    const cell = { x: x + PAD.x, width: width - 2 * PAD.x, align: c.align ?? ("left" as const) };
    x += width;
    return cell;
  });
}

function rowHeight(paper: Paper, sheet: TableDocument, row: readonly string[], font: string): number {
  paper.font(font).fontSize(SIZE.text);
  const heights = cellsOf(paper, sheet).map(({ width }, i) => paper.heightOfString(row[i] ?? "", { width }));
  return Math.max(...heights) + 2 * PAD.y;
}

/** @param table that the row is part of; without it the row is an ornament that the caller marks */
function drawRow(
  paper: Paper,
  sheet: TableDocument,
  row: readonly string[],
  y: number,
  font: string,
  table?: Part,
): number {
  const height = rowHeight(paper, sheet, row, font);
  const isHead = font === STRONG;
  const part = table && partOf(paper, table, "TR");
  paper.fillColor(INK);
  for (const [i, { x, width, align }] of cellsOf(paper, sheet).entries()) {
    const draw = () => paper.text(row[i] ?? "", x, y + PAD.y, { width, align });
    if (part) say(paper, part, isHead ? "TH" : "TD", draw, isHead ? { scope: "Column" } : {});
    else draw();
  }
  const line = () =>
    paper
      .moveTo(EDGE.left, y + height)
      .lineTo(EDGE.left + widthOf(paper), y + height)
      .lineWidth(isHead ? 1 : 0.5)
      .strokeColor(RULE)
      .stroke();
  if (part) ornament(paper, "Layout", line);
  else line();
  return y + height;
}

const END_GAP = { before: 8, between: 4 };

const endLines = (sheet: TableDocument) => [
  ...sheet.sums.map((text) => ({ text, font: STRONG, align: "right" as const })),
  ...sheet.notes.map((text) => ({ text, font: PLAIN, align: "left" as const })),
];

function endHeight(paper: Paper, sheet: TableDocument): number {
  const width = widthOf(paper);
  return endLines(sheet).reduce(
    (sum, { text, font }) =>
      sum + paper.font(font).fontSize(SIZE.text).heightOfString(text, { width }) + END_GAP.between,
    END_GAP.before,
  );
}

/** Sums and notes; long notes may fill a page on their own. */
function drawEnd(paper: Paper, whole: Part, sheet: TableDocument, from: number): void {
  const width = widthOf(paper);
  let y = from + END_GAP.before;
  for (const { text, font, align } of endLines(sheet)) {
    paper.font(font).fontSize(SIZE.text).fillColor(INK);
    if (y + paper.heightOfString(text, { width }) > lastLine(paper)) y = nextPage(paper, sheet);
    say(paper, whole, "P", () =>
      paper.font(font).fontSize(SIZE.text).text(text, EDGE.left, y, { width, align }),
    );
    y = paper.y + END_GAP.between;
  }
}

/** How many pages there are is known at the end only. */
function numberPages(paper: Paper, sheet: TableDocument): void {
  const { start, count } = paper.bufferedPageRange();
  for (let i = start; i < start + count; i++) {
    paper.switchToPage(i);
    const y = paper.page.height - EDGE.bottom + 16;
    const width = widthOf(paper);
    paper.font(PLAIN).fontSize(SIZE.small).fillColor(FAINT);
    ornament(paper, "Pagination", () => {
      paper.text(sheet.foot, EDGE.left, y, { width: width * 0.7, lineBreak: false });
      paper.text(sheet.pageWords(i + 1, count), EDGE.left, y, { width, align: "right" });
    });
  }
}
