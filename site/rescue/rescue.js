// The rescue page: what is stored, save it all, start clean. It imports nothing, and reads no entry, so that no entry
// can break it.

// base/framed.js says why.
try {
  for (let at = window; at !== at.parent; at = /** @type {typeof window} */ (at.parent))
    if (at.parent.location.origin !== location.origin) throw new Error('framed')
} catch (framed) {
  document.body.textContent = 'Open this page by itself: it does not work inside a page of somebody else.'
  throw framed
}

const OURS = 'thickset.'
const KINDS = [
  ['thickset.job.', 'a job'],
  ['thickset.planer.', 'a planer'],
  ['thickset.book.', 'the book of a planer'],
  ['thickset.aside.', 'damaged, set aside'],
  ['thickset.now', 'where you were'],
  ['thickset.answer', 'the last plan shown'],
  ['thickset.forms', 'what stands in the forms'],
]

/** @param {string} id */
const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id))
const saving = /** @type {HTMLButtonElement} */ (byId('save'))
const clearing = /** @type {HTMLButtonElement} */ (byId('clear'))

/** @param {string} text */
function say(text) {
  byId('said').textContent = text
}

/** Every entry of ours, as found. */
function stored() {
  /** @type {{key: string, text: string}[]} */
  const found = []
  for (let n = 0; n < localStorage.length; n += 1) {
    const key = localStorage.key(n)
    if (key?.startsWith(OURS)) found.push({key, text: localStorage.getItem(key) ?? ''})
  }
  return found.sort((a, b) => (a.key < b.key ? -1 : 1))
}

/** @param {{key: string, text: string}} entry */
function row({key, text}) {
  const made = document.createElement('tr')
  const [, kind = ''] = KINDS.find(([start = '']) => key.startsWith(start)) ?? []
  for (const said of [key.slice(0, 80), kind, `${text.length} signs`]) {
    const cell = document.createElement('td')
    cell.textContent = said
    made.append(cell)
  }
  return made
}

function show() {
  /** @type {{key: string, text: string}[]} */
  let entries = []
  try {
    entries = stored()
    say(entries.length ? `Entries stored here: ${entries.length}.` : 'Nothing is stored here.')
  } catch {
    say('This browser lets no page read what is stored here. Allow it in its settings, and load this page again.')
  }
  byId('entries').replaceChildren(...entries.map(row))
  saving.disabled = clearing.disabled = entries.length === 0
  byId('sure').hidden = true
}

function save() {
  const whole = `${JSON.stringify({thickset_stored: 1, entries: stored()})}\n`
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([whole], {type: 'application/json'}))
  link.download = 'thickset-stored.json'
  document.body.append(link)
  link.click()
  link.remove()
  say('Saved as thickset-stored.json.')
}

function clear() {
  for (const {key} of stored()) localStorage.removeItem(key)
  show()
  say('All is deleted. The planner starts as on the first day.')
}

saving.addEventListener('click', save)
clearing.addEventListener('click', () => {
  byId('sure').hidden = false
  byId('no').focus()
})
byId('no').addEventListener('click', show)
byId('yes').addEventListener('click', clear)
show()
