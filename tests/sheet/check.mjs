// Looks at sheets in a browser: messages, requests, overflow on telephone, tablet and desk, contrast
// of every text, headings and ids, the printed pages, and its figures against the JSON answers.
//
// Not part of the default tests. It needs Debian's `chromium` and `poppler-utils`, and the package
// `playwright-core` (npm install playwright-core, anywhere that node finds it):
//
//     for f in networks/examples/*.yaml; do
//         build/solver/headroom sheet "$f" -o "sheets/$(basename "$f" .yaml).html"
//         for q in drive losses season; do
//             build/solver/headroom $q "$f" --format json -o "sheets/$(basename "$f" .yaml).$q.json"
//         done; done
//     node tests/sheet/check.mjs sheets pictures
//
// Faults are printed, one a line, and make it end with 1. Pictures and PDFs are left in the second
// folder for a look by eye.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const { chromium } = createRequire(join(process.cwd(), 'here.js'))('playwright-core');
const [, , sheets, pictures] = process.argv;
if (!sheets || !pictures) {
    console.error('usage: node check.mjs FOLDER_OF_SHEETS FOLDER_FOR_PICTURES');
    process.exit(2);
}
mkdirSync(pictures, { recursive: true });
const widths = [360, 768, 1280];
let faults = 0;
const fault = (name, what) => {
    faults += 1;
    console.log(`${name}: ${what}`);
};

// Runs in the page. Relative luminance and contrast by WCAG 2.1, 1.4.3.
function poorContrast() {
    const parse = (text) => (text.match(/[\d.]+/g) || []).map(Number);
    const channel = (v) => (v / 255 <= 0.03928 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
    const luminance = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
    const ground = (element) => {
        for (let at = element; at; at = at.parentElement) {
            const colour = parse(getComputedStyle(at).backgroundColor);
            if (colour.length === 3 || colour[3] > 0) return colour;
        }
        return [255, 255, 255];
    };
    const out = [];
    for (const element of document.querySelectorAll('body *')) {
        const own = [...element.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
        if (!own || ['TITLE', 'DESC', 'STYLE'].includes(element.tagName.toUpperCase())) continue;
        const style = getComputedStyle(element);
        const drawn = element instanceof SVGElement;
        const fore = luminance(parse(drawn ? style.fill : style.color));
        const grounds = [luminance(ground(element))];
        if (drawn) { // shapes that the text lies on
            const box = element.getBBox();
            const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
            for (const shape of element.ownerSVGElement.querySelectorAll('rect, circle')) {
                const b = shape.getBBox();
                const fill = getComputedStyle(shape).fill;
                if (fill !== 'none' && x >= b.x && x <= b.x + b.width && y >= b.y && y <= b.y + b.height)
                    grounds.push(luminance(parse(fill)));
            }
        }
        for (const back of grounds) {
            const ratio = (Math.max(fore, back) + 0.05) / (Math.min(fore, back) + 0.05);
            if (ratio < 4.5) out.push(`${element.textContent.slice(0, 30)}: contrast ${ratio.toFixed(2)}`);
        }
    }
    return out;
}

// Runs in the page: texts of a drawing that lie over each other or leave its frame.
function clashingTexts() {
    const out = [];
    for (const svg of document.querySelectorAll('svg')) {
        const frame = svg.viewBox.baseVal;
        const texts = [...svg.querySelectorAll('text')].filter((t) => t.textContent && !t.getAttribute('transform'));
        const boxes = texts.map((text) => text.getBBox());
        for (let i = 0; i < texts.length; ++i) {
            const a = boxes[i];
            if (a.x < -1 || a.y < -1 || a.x + a.width > frame.width + 1 || a.y + a.height > frame.height + 1)
                out.push(`${svg.querySelector('title').textContent}: "${texts[i].textContent}" leaves the frame`);
            for (let k = i + 1; k < texts.length; ++k) {
                const b = boxes[k];
                const wide = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
                const high = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
                if (wide > 2 && high > 5)
                    out.push(`${svg.querySelector('title').textContent}: "${texts[i].textContent}" over "${texts[k].textContent}"`);
            }
        }
    }
    return out;
}

// Runs in the page.
function structureFaults() {
    const out = [];
    let level = 0;
    for (const heading of document.querySelectorAll('h1, h2, h3, h4')) {
        const next = Number(heading.tagName[1]);
        if (next > level + 1) out.push(`heading ${heading.textContent} skips a level`);
        level = next;
    }
    const ids = [...document.querySelectorAll('[id]')].map((e) => e.id);
    if (new Set(ids).size !== ids.length) out.push('an id stands twice');
    for (const link of document.querySelectorAll('a[href]'))
        if (!document.getElementById(link.getAttribute('href').slice(1))) out.push(`${link.href} leads nowhere`);
    if (document.documentElement.lang !== 'en') out.push('no language');
    return out;
}

// What the PDF has against the page: every cell's words, and nothing beyond the paper.
function printFaults(pdf, cells) {
    const out = [];
    const text = execFileSync('pdftotext', ['-bbox', pdf, '-'], { maxBuffer: 1 << 28 }).toString();
    const pages = text.split('<page ').slice(1);
    const words = new Map();
    for (const page of pages) {
        const [, width, height] = page.match(/width="([\d.]+)" height="([\d.]+)"/).map(Number);
        for (const word of page.matchAll(/<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)<\/word>/g)) {
            const [x0, y0, x1, y1] = word.slice(1, 5).map(Number);
            if (x0 < 20 || y0 < 20 || x1 > width - 20 || y1 > height - 20)
                out.push(`"${word[5]}" beyond the margin of the page`);
            words.set(word[5], (words.get(word[5]) || 0) + 1);
        }
    }
    const plain = execFileSync('pdftotext', ['-raw', pdf, '-'], { maxBuffer: 1 << 28 }).toString().replace(/[\s-]+/g, '');
    for (const cell of cells)
        if (!plain.includes(cell.replace(/[\s-]+/g, ''))) out.push(`cell "${cell}" is not printed whole`);
    return [out, pages.length];
}

// Runs in the page: every table as its heads and rows, and the list of the verdict's figures.
function figuresOfPage() {
    const words = (cell) => cell.textContent.trim();
    const tables = [...document.querySelectorAll('table')].map((table) => ({
        heads: [...table.querySelectorAll('thead th')].map(words),
        rows: [...table.querySelectorAll('tbody tr')].map((row) => [...row.children].map(words)),
    }));
    const list = [...document.querySelectorAll('dt')].map((term) => [words(term), words(term.nextElementSibling)]);
    return { tables, list };
}

// The tables whose figures an answer holds: the heads by which a table is known, the answer's rows,
// and of each row the cells that follow its name, as SI times a factor; words as they are.
const shown = [
    { heads: ['room', 'temperature', 'heat on the coldest day'], rows: (a) => a.losses?.rooms, name: 'room',
        cells: (r) => [r.indoor_c, r.used_w] },
    { heads: ['state', 'flow', 'needed'], rows: (a) => a.drive?.states, name: 'state',
        cells: (r) => [r.source_flow_m3_s * 6e4, r.head_needed_pa / 1e3 || null, r.head_available_pa / 1e3 || null,
            r.headroom_pa / 1e3 || null, r.judged_by] },
    { heads: ['no.', 'along the circuit'], rows: (a) => withSums(a.drive?.index_steps), name: 'number',
        cells: (r) => [r.where, r.piece, r.velocity_m_s || null, r.loss_pa / 1e3, r.sum_pa / 1e3] },
    { heads: ['loop or radiator', 'heat', 'drop'], rows: (a) => a.drive?.emitters, name: 'name',
        cells: (r) => [r.heat_w, r.drop_k, r.design_flow_m3_s * 6e4, r.velocity_m_s || null, r.loss_pa / 1e3,
            r.surplus_pa / 1e3, r.share_of_design_flow * 100, r.cold_share_of_design_flow * 100] },
    { heads: ['loop or radiator', 'design flow', 'set Kv'], rows: (a) => a.drive?.emitters, name: 'name',
        cells: (r) => [r.design_flow_m3_s * 6e4, r.valve_kv_m3_h || null, r.surplus_pa / 1e3] },
    { heads: ['what', 'taken as'], rows: (a) => a.drive && [...a.drive.assumed, ...assumedOfYear(a.season)], name: 'what',
        cells: (r) => r.range === undefined ? [r.value] : [r.value, r.range,
            r.headroom_change_low_pa === null ? null : r.headroom_change_low_pa / 1e3,
            r.headroom_change_high_pa === null ? null : r.headroom_change_high_pa / 1e3] },
    { heads: ['flow temperature', 'heat'], rows: (a) => a.season?.ways, name: 'flow_temperature',
        cells: (r, heads) => [r.heat_kwh, r.seasonal_performance * (heads[2] === 'COP' ? 1 : 100), r.gas_kwh || null, r.electricity_kwh, r.pump_kwh, r.cost,
            r.co2_kg, r.starts] },
    { heads: ['outside', 'source, flow'], rows: (a) => a.season?.curve, name: 'outdoor_c',
        cells: (r) => [r.source_c, r.return_c, ...r.circuits.flatMap((c) => (c.hot_share === null ? [c.flow_c] : [c.flow_c, c.hot_share * 100]))] },
];

function assumedOfYear(season) {
    return (season?.assumed || []).map((row) => ({ ...row, what: `year: ${row.what}` }));
}

function withSums(steps) {
    let sum = 0;
    return steps?.map((step, i) => ({ ...step, number: i + 1, sum_pa: (sum += step.loss_pa) }));
}

// A figure is right if it is the value to its own last digit; nothing stands as a dash or empty.
function agrees(cell, value) {
    if (value === null || value === undefined) return /^[–-]?$/.test(cell);
    if (typeof value === 'string') return cell === value;
    const figure = cell.match(/[+-]?[\d.]+/);
    if (!figure) return false;
    const digits = (figure[0].split('.')[1] || '').length;
    return Math.abs(Number(figure[0]) - value) <= 0.5 * 10 ** -digits * (1 + 1e-9) + 1e-12;
}

function figureFaults({ tables, list }, answers) {
    const out = [];
    let compared = 0;
    for (const { heads, rows, name, cells } of shown) {
        const expected = rows(answers);
        const found = tables.filter((t) => heads.every((head, i) => t.heads[i]?.startsWith(head)));
        if (!expected?.length || !found.length) continue;
        for (const row of found[0].rows) {
            const same = expected.filter((r) => agrees(row[0], r[name]));
            if (!same.length) out.push(`${heads[0]} "${row[0]}" is in no answer`);
            same.slice(0, 1).forEach((r) => cells(r, found[0].heads).forEach((value, i) => {
                if (row[i + 1] === undefined) return;
                compared += 1;
                if (!agrees(row[i + 1], value))
                    out.push(`${row[0]}, ${found[0].heads[i + 1]}: "${row[i + 1]}", but the answer has ${value}`);
            }));
        }
        if (found[0].rows.length < expected.length && name !== 'outdoor_c')
            out.push(`${heads[0]}: ${found[0].rows.length} rows of ${expected.length}`);
    }
    const figures = { 'head needed': 'head_needed_pa', 'head available': 'head_available_pa', headroom: 'headroom_pa' };
    for (const [term, text] of list)
        if (answers.drive && figures[term]) {
            compared += 1;
            if (!agrees(text, answers.drive[figures[term]] / 1e3)) out.push(`${term}: "${text}"`);
        }
    return [out, compared];
}

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const file of readdirSync(sheets).filter((name) => name.endsWith('.html')).sort()) {
    const name = file.replace(/\.html$/, '');
    const address = pathToFileURL(resolve(sheets, file)).href;
    const context = await browser.newContext({ javaScriptEnabled: true, offline: true });
    const page = await context.newPage();
    page.on('console', (message) => fault(name, `console: ${message.text()}`));
    page.on('pageerror', (error) => fault(name, `error: ${error.message}`));
    page.on('request', (request) => {
        if (request.url() !== address) fault(name, `request for ${request.url()}`);
    });
    for (const width of widths) {
        await page.setViewportSize({ width, height: 900 });
        await page.goto(address);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        if (over > 0) fault(name, `${over} px wider than ${width} px`);
        await page.screenshot({ path: join(pictures, `${name}-${width}.png`), fullPage: true });
    }
    for (const check of [poorContrast, clashingTexts, structureFaults])
        for (const what of await page.evaluate(check)) fault(name, what);
    for (const box of await page.locator('figure').all()) {
        const id = await box.getAttribute('id');
        await box.screenshot({ path: join(pictures, `${name}-${id}.png`) });
    }
    const answers = {};
    for (const question of ['drive', 'losses', 'season']) {
        const kept = join(sheets, `${name}.${question}.json`);
        if (existsSync(kept)) answers[question] = JSON.parse(readFileSync(kept, 'utf8'));
    }
    const [wrong, compared] = figureFaults(await page.evaluate(figuresOfPage), answers);
    for (const what of wrong) fault(name, `figure: ${what}`);
    const cells = await page.evaluate(() => [...document.querySelectorAll('th, td')].map((c) => c.innerText.trim()).filter(Boolean));
    const pdf = join(pictures, `${name}.pdf`);
    await page.pdf({ path: pdf, preferCSSPageSize: true, printBackground: true });
    const [printed, pages] = printFaults(pdf, cells);
    // What the household is given is one page; the system begins on the next.
    const second = execFileSync('pdftotext', ['-f', '2', '-l', '2', pdf, '-']).toString();
    if (!/^The system$/m.test(second)) fault(name, 'the part for the household is not one page');
    for (const what of printed) fault(name, `print: ${what}`);
    console.log(`${name}: looked at, ${pages} pages, ${compared} figures compared`);
    await context.close();
}
await browser.close();
process.exit(faults ? 1 : 0);
