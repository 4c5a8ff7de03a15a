// Looks at sheets in a browser: messages, requests, overflow on telephone, tablet and desk, contrast
// of every text, headings and ids, and the printed pages.
//
// Not part of the default tests. It needs Debian's `chromium` and `poppler-utils`, and the package
// `playwright-core` (npm install playwright-core, anywhere that node finds it):
//
//     for f in networks/examples/*.yaml; do
//         build/solver/headroom sheet "$f" -o "sheets/$(basename "$f" .yaml).html"; done
//     node tests/sheet/check.mjs sheets pictures
//
// Faults are printed, one a line, and make it end with 1. Pictures and PDFs are left in the second
// folder for a look by eye.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync } from 'node:fs';
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
    const cells = await page.evaluate(() => [...document.querySelectorAll('th, td')].map((c) => c.innerText.trim()).filter(Boolean));
    const pdf = join(pictures, `${name}.pdf`);
    await page.pdf({ path: pdf, preferCSSPageSize: true, printBackground: true });
    const [printed, pages] = printFaults(pdf, cells);
    for (const what of printed) fault(name, `print: ${what}`);
    console.log(`${name}: looked at, ${pages} pages`);
    await context.close();
}
await browser.close();
process.exit(faults ? 1 : 0);
