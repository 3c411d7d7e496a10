// Hands the plan over: the link is made beforehand, so that the tap itself may share or copy it.

import {$, say, seek} from '../base/dom.js'

const MAKING = 'The link is being made: tap again in a moment.'

/** The buttons and words of the part of the page. @param {HTMLElement} root */
const partsOf = (root) => ({
  said: $('[role="status"]', root),
  field: $('.field', root),
  box: $('.field input', root, HTMLInputElement),
  code: $('#send-code', root),
  share: $('[data-send="share"]', root),
  copy: $('[data-send="copy"]', root),
  toScan: $('[data-send="code"]', root),
  check: $('.check', root),
  withRun: $('input[type="checkbox"]', root, HTMLInputElement),
})

export class Send {
  #parts
  #link = ''
  #title = ''
  #refused = ''

  /**
   * `onCode()` asks for the code; `onRun(bool)` says whether the run goes along.
   * @param {HTMLElement} root
   * @param {{onCode: () => void, onRun: (along: boolean) => void}} handlers
   */
  constructor(root, {onCode, onRun}) {
    this.#parts = partsOf(root)
    const {said, code, share, copy, toScan, withRun} = this.#parts
    share.hidden = typeof navigator.share !== 'function'
    copy.classList.toggle('strong', share.hidden)
    share.addEventListener('click', () => this.#ready() && this.#share())
    copy.addEventListener('click', () => this.#ready() && this.#copy())
    toScan.addEventListener('click', () => {
      if (code.innerHTML) code.innerHTML = ''
      else {
        say(said, 'The code is being drawn …')
        onCode()
      }
    })
    withRun.addEventListener('change', () => onRun(withRun.checked))
  }

  /** The link of what was on the page is none of what is there now. */
  forget() {
    const {said, field, code} = this.#parts
    this.#link = ''
    this.#refused = ''
    field.hidden = true
    code.innerHTML = ''
    say(said, '')
  }

  /** `begun`: there is a run to send along. @param {boolean} begun */
  show(begun) {
    this.#parts.check.hidden = !begun
  }

  /** The link of what is on the page now. @param {string} link @param {string} title */
  offer(link, title) {
    const {said} = this.#parts
    this.#link = link
    this.#title = title
    if (said.textContent === MAKING) say(said, 'The link is ready.')
  }

  /** Why there is no link. @param {string} text */
  refuse(text) {
    const {said} = this.#parts
    this.#refused = text
    if (said.textContent === MAKING) say(said, text)
  }

  /**
   * The code is html that only the core made; `text` says why there is none.
   * @param {string} html
   * @param {string} [text]
   */
  showCode(html, text = '') {
    const {said, code} = this.#parts
    code.innerHTML = html
    say(said, text)
    seek('svg', code, SVGElement)?.scrollIntoView({block: 'nearest'})
  }

  #ready() {
    if (!this.#link) say(this.#parts.said, this.#refused || MAKING)
    return this.#link !== ''
  }

  // Nothing is awaited before the share sheet or the clipboard is called: a browser allows them within the tap only.
  #share() {
    const {said} = this.#parts
    navigator.share({title: this.#title, url: this.#link}).then(
      () => say(said, ''),
      (error) => {
        if (error?.name === 'AbortError') say(said, '')
        else this.#showLink('Sharing did not work here. Copy this link.')
      },
    )
  }

  #copy() {
    const copied = () => say(this.#parts.said, 'The link is copied.')
    const byHand = () => {
      this.#showLink('Copy this link.')
      if (document.execCommand?.('copy')) copied()
    }
    if (navigator.clipboard?.writeText) navigator.clipboard.writeText(this.#link).then(copied, byHand)
    else byHand()
  }

  /** @param {string} words */
  #showLink(words) {
    const {said, field, box} = this.#parts
    box.value = this.#link
    field.hidden = false
    box.focus()
    box.select()
    say(said, words)
  }
}
