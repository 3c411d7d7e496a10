// node icons.mjs RESVG ICON.svg OUT: draw the icons that an installed page needs from our own SVG.
import {readFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'
import {pathToFileURL} from 'node:url'

const [folder, icon, out] = process.argv.slice(2)
const {initWasm, Resvg} = (await import(pathToFileURL(join(folder, 'index.js')))).default
await initWasm(readFileSync(join(folder, 'index_bg.wasm')))
const svg = readFileSync(icon, 'utf8')
const draw = (text, size) => new Resvg(text, {fitTo: {mode: 'width', value: size}}).render().asPng()

for (const size of [192, 512]) writeFileSync(join(out, `icon-${size}.png`), draw(svg, size))
// A launcher cuts its own shape out of a maskable icon: the ground goes to the edges, the drawing into the middle 80 %.
const [, ground, fill] = svg.match(/(<rect width="512" height="512" rx="\d+" fill="(#[0-9a-f]{6})"\/>)/)
const inner = svg.slice(svg.indexOf(ground) + ground.length, svg.indexOf('</svg>'))
const maskable =
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512"><rect width="512" height="512" fill="${fill}"/>` +
  `<g transform="translate(51.2 51.2) scale(.8)">${inner}</g></svg>`
writeFileSync(join(out, 'icon-maskable-512.png'), draw(maskable, 512))
writeFileSync(join(out, 'icon-apple-180.png'), draw(maskable, 180))
