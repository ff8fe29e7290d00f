'use strict';
// Replays the rides of the page. `viewAt` is the one description of what is shown at a time; everything drawn comes from it.
(() => {
const book = JSON.parse(document.getElementById('rides').textContent);
const names = book.riders, count = names.length, length_m = book.road.length_m;
const bicycle_m = 1.7, deepest_W = 100, close_m = 0.6, waiting = 5, finished = 6, planned = 1, forecast = 1;
const $ = id => document.getElementById(id);
const state = { t: 0, playing: false, chosen: 0, wind: forecast, company: planned };

// ---- the rides ----

function buffer(text) {
  const raw = atob(text), bytes = new Uint8Array(raw.length);
  for (let k = 0; k < raw.length; ++k) bytes[k] = raw.charCodeAt(k);
  return bytes.buffer;
}

function opened(packed) {
  const steps = new Uint16Array(buffer(packed.place.steps)), place = new Float64Array(steps.length);
  for (let k = 0; k < steps.length; ++k) place[k] = k < count ? packed.place.first[k] : place[k - count] + steps[k];
  return { ...packed, time: new Uint32Array(buffer(packed.time)), place,
    side: new Int8Array(buffer(packed.side)), power: new Uint16Array(buffer(packed.power)),
    saved: new Int16Array(buffer(packed.saved)), wbal: new Uint8Array(buffer(packed.wbal)),
    group: new Int16Array(buffer(packed.group)), role: new Uint8Array(buffer(packed.role)),
    worth: new Uint8Array(buffer(packed.worth)), aside: new Int8Array(buffer(packed.aside)),
    strip: { alone: new Int16Array(buffer(packed.strip.alone)), saved: new Int16Array(buffer(packed.strip.saved)) } };
}

const known = new Map();
function rideOf(wind, company) {
  const key = 3 * wind + company;
  if (!known.has(key)) known.set(key, opened(book.rides[wind][company]));
  return known.get(key);
}
const rideNow = () => rideOf(state.wind, state.company);
const endOf = ride => ride.time[ride.time.length - 1] / 10;

/** The ride at time t: numbers run straight between samples; group and role change at the samples. */
function viewAt(ride, t) {
  const times = ride.time, last = times.length - 1, tenths = Math.min(Math.max(10 * t, times[0]), times[last]);
  let low = 0, high = last;
  while (low < high) { const mid = (low + high + 1) >> 1; if (times[mid] <= tenths) low = mid; else high = mid - 1; }
  const next = Math.min(low + 1, last), span = times[next] - times[low], share = span > 0 ? (tenths - times[low]) / span : 0;
  const riders = names.map((name, i) => {
    const a = low * count + i, b = next * count + i, between = column => column[a] + share * (column[b] - column[a]);
    const power_W = between(ride.power) * book.power_step_W, saved_W = between(ride.saved) * book.power_step_W;
    const now = Math.round(power_W), alone = Math.round(power_W + saved_W);  // so that now + saved = alone
    return { name, i, distance_m: between(ride.place) * book.place_step_m, side_m: between(ride.side) * 0.05,
      speed_mps: span > 0 ? (ride.place[b] - ride.place[a]) * book.place_step_m * 10 / span : 0,
      power_W, saved_W, now, alone, saved: alone - now, wbal: between(ride.wbal) / 200, group: ride.group[a],
      role: ride.role[a], home: ride.role[a] === finished, worth_W: between(ride.worth) / 2, aside_m: between(ride.aside) / 100 };
  });
  const home = i => riders[i].home ? ride.finish_s[i] : Infinity;
  const order = riders.map(r => r.i).sort((p, q) =>
    home(p) !== home(q) ? home(p) - home(q) : riders[q].distance_m - riders[p].distance_m || p - q);
  return { t: tenths / 10, riders, order };
}

const elevation = book.road.elevation_m, grid_m = length_m / (elevation.length - 1);
function heightAt(m) {
  const at = Math.min(Math.max(m / grid_m, 0), elevation.length - 1), k = Math.min(Math.floor(at), elevation.length - 2);
  return elevation[k] + (at - k) * (elevation[k + 1] - elevation[k]);
}
const gradeAt = m => (heightAt(m + 25) - heightAt(m - 25)) / (Math.min(m + 25, length_m) - Math.max(m - 25, 0));

// ---- words ----

const minus = value => value < 0 ? '\u2212' + -value : '' + value;
function clock(s, hours) {
  if (s === null || !isFinite(s)) return '\u2013';
  const whole = Math.round(s), two = v => String(v).padStart(2, '0');
  return hours || whole >= 3600 ? `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`
    : `${Math.floor(whole / 60)}:${two(whole % 60)}`;
}

function numberWords(r) {
  if (r.home) return `${r.name} is home`;
  if (r.saved < 0) return `${r.name}: ${r.now} W now \u2212 ${-r.saved} W cost of company = ${r.alone} W alone`;
  return `${r.name}: ${r.now} W now + ${r.saved} W saved = ${r.alone} W alone`;
}

function captionWords(ride, view) {
  if (view.t <= 0 && !state.playing) return 'Press Play, or drag the slider.';
  let told = null;
  for (const c of ride.captions) if (c.t <= view.t && c.t > view.t - 90) told = c;
  const r = view.riders[state.chosen];
  const here = r.home ? '' : ` ${r.name} rides at ${(3.6 * r.speed_mps).toFixed(1)} km/h on ${(100 * gradeAt(r.distance_m)).toFixed(1)} %.`;
  return (told ? told.words + '.' : '') + here;
}

function outcomeWords(ride) {
  const i = state.chosen, usual = rideOf(forecast, planned), time = ride.finish_s[i];
  if (time === null) return `${names[i]} does not get to the finish.`;
  const later = time - usual.finish_s[i], same = ride === usual || Math.abs(later) < 0.5;
  return `${names[i]} is at the finish after ${clock(time)}, at ${Math.round(ride.mean_W[i])} W on average` +
    (ride === usual ? '.' : same ? ', as planned.' : `, ${clock(Math.abs(later))} ${later > 0 ? 'later' : 'sooner'} than planned.`);
}

// ---- drawing ----

const canvas = $('stage'), pen = canvas.getContext('2d');
let ink = {}, width = 0, height = 0;
function prepare() {
  const style = getComputedStyle(document.documentElement), ratio = window.devicePixelRatio || 1;
  for (const name of ['paper', 'raised', 'ink', 'quiet', 'line', 'land', 'steep', 'road', 'wake', 'chosen', 'rider', 'warning'])
    ink[name] = style.getPropertyValue('--' + name).trim();
  width = canvas.clientWidth, height = canvas.clientHeight;
  canvas.width = Math.round(width * ratio), canvas.height = Math.round(height * ratio);
  pen.setTransform(ratio, 0, 0, ratio, 0, 0);
  hatching = null;
}

let hatching = null;
function hatch() {
  if (hatching) return hatching;
  const tile = document.createElement('canvas'), p = tile.getContext('2d');
  tile.width = tile.height = 6;
  p.strokeStyle = ink.chosen, p.lineWidth = 1.4;
  for (const at of [-6, 0, 6]) { p.beginPath(), p.moveTo(at - 1, 7), p.lineTo(at + 7, -1), p.stroke(); }
  return hatching = pen.createPattern(tile, 'repeat');
}

function text(words, x, y, colour, align, size, bold) {
  pen.font = `${bold ? '700 ' : ''}${size || 13}px system-ui, sans-serif`;
  pen.fillStyle = colour, pen.textAlign = align || 'left', pen.textBaseline = 'alphabetic';
  pen.fillText(words, x, y);
  return pen.measureText(words).width;
}

const rows = () => {  // tops and bottoms of the three parts of the picture
  const profile = Math.round(0.36 * height), strip = profile + Math.round(0.2 * height);
  return { left: 10, right: width - 10, head: 34, profile, strip: strip - 8, bunch: strip + 16, bottom: height - 6 };
};
const across = m => { const r = rows(); return r.left + m / length_m * (r.right - r.left); };

function drawProfile(view) {
  const r = rows(), low = Math.min(...elevation), high = Math.max(...elevation, low + 10);
  const y = m => r.profile - 6 - (heightAt(m) - low) / (high - low) * (r.profile - 6 - r.head);
  for (let x = r.left; x < r.right; x += 2) {
    const m = (x - r.left) / (r.right - r.left) * length_m, weight = Math.min(1, Math.abs(gradeAt(m)) / 0.12) ** 2;
    pen.fillStyle = ink.land, pen.fillRect(x, y(m), 2.3, r.profile - y(m));
    pen.globalAlpha = 0.8 * weight, pen.fillStyle = ink.steep, pen.fillRect(x, y(m), 2.3, r.profile - y(m)), pen.globalAlpha = 1;
  }
  let free = -1;
  pen.font = '13px system-ui, sans-serif';
  for (const mark of book.road.landmarks) {
    const w = pen.measureText(mark.name).width, x = Math.min(Math.max(across(mark.m) - w / 2, r.left), r.right - w);
    if (x < free) continue;
    text(mark.name, x, 13, ink.quiet), free = x + w + 10;
    pen.fillStyle = ink.line, pen.fillRect(across(mark.m), 17, 1, r.profile - 17);
  }
  drawBeads(view, y);
}

/** One bead a group with the number of its riders; riders alone are small. */
function drawBeads(view, y) {
  const groups = new Map();
  for (const i of view.order) {
    const r = view.riders[i], key = r.group >= 0 ? r.group : -1 - i;
    if (r.home || (state.company === 0 && i !== state.chosen)) continue;
    if (!groups.has(key)) groups.set(key, []);
    groups.get(key).push(r);
  }
  const mineLast = g => g.some(r => r.i === state.chosen) ? 2 : g.length > 1 ? 1 : 0;
  const beads = [...groups.values()].reverse().sort((a, b) => mineLast(a) - mineLast(b));
  for (const g of beads) {
    const m = g[0].distance_m, mine = g.some(r => r.i === state.chosen), radius = g.length > 1 ? 10 : 5;
    pen.beginPath(), pen.arc(across(m), y(m) - radius, radius, 0, 2 * Math.PI);
    pen.fillStyle = mine ? ink.chosen : ink.rider, pen.fill();
    pen.strokeStyle = ink.raised, pen.stroke();
    if (g.length > 1) text(g.length, across(m), y(m) - radius + 5, ink.paper, 'center', 13, true);
  }
}

/** Watts saved along the whole ride, hatched, over the power that riding alone asks. */
function drawStrip(ride, view) {
  const r = rows(), zero = r.strip - 4, tall = zero - r.profile - 8, perW = tall / book.scale_W, at = state.chosen * book.pieces;
  for (let k = 0; k < book.pieces; ++k) {
    const x = across(k / book.pieces * length_m), w = across((k + 1) / book.pieces * length_m) - x;
    const alone = Math.min(tall, ride.strip.alone[at + k] * book.power_step_W * perW), saved = ride.strip.saved[at + k] * book.power_step_W * perW;
    pen.fillStyle = ink.land, pen.fillRect(x, zero - alone, w + 0.4, alone);
    if (saved > 0) {
      pen.fillStyle = hatch(), pen.fillRect(x, zero - saved, w + 0.4, saved);
      pen.fillStyle = ink.chosen, pen.fillRect(x, zero - saved - 1, w + 0.4, 2);
    } else if (saved < -0.5) {
      pen.fillStyle = ink.warning, pen.fillRect(x, zero, w + 0.4, Math.min(4, -saved));
    }
  }
  pen.fillStyle = ink.quiet, pen.fillRect(r.left, zero, r.right - r.left, 1);
  const me = view.riders[state.chosen], x = across(me.distance_m);
  pen.fillStyle = ink.ink, pen.fillRect(x - 1, r.profile + 2, 2, zero - r.profile - 2);
  const words = me.home ? '' : me.saved < 0 ? `costs ${-me.saved} W` : `${me.saved} W saved`;
  pen.font = '700 14px system-ui, sans-serif';
  const w = pen.measureText(words).width, flip = x + w + 8 > r.right;
  if (words) plate(words, flip ? x - w - 6 : x + 6, zero - 4, me.saved < 0 ? ink.warning : ink.chosen, 14, true);
  text(`${names[state.chosen]}: saved of the power alone, scale ${book.scale_W} W`, r.left, r.strip + 12, ink.quiet, 'left', 12);
}

function plate(words, x, y, colour, size, bold) {
  pen.font = `${bold ? '700 ' : ''}${size}px system-ui, sans-serif`;
  pen.globalAlpha = 0.85, pen.fillStyle = ink.raised, pen.fillRect(x - 3, y - size, pen.measureText(words).width + 6, size + 4), pen.globalAlpha = 1;
  text(words, x, y, colour, 'left', size, bold);
}

/** The group of the chosen rider from above; travel to the right. */
function drawBunch(view) {
  const r = rows(), me = view.riders[state.chosen];
  const shown = view.riders.filter(o => !o.home && (o.i === me.i || (state.company !== 0 && (me.home || o.group === me.group && me.group >= 0))));
  if (!shown.length) { text('Everyone is home.', (r.left + r.right) / 2, (r.bunch + r.bottom) / 2, ink.ink, 'center', 16, true); return; }
  const first = Math.max(...shown.map(o => o.distance_m)), last = Math.min(...shown.map(o => o.distance_m)) - bicycle_m;
  const tall = r.bottom - r.bunch, road_m = book.road.width_m;
  const scale = Math.max(4, Math.min((width - 20) / (first - last + 9), tall / (road_m + 0.6), 46)), middle = (first + last) / 2 - 2;
  const lane = road_m * scale <= tall ? 0 : shown.reduce((sum, o) => sum + o.side_m, 0) / shown.length;
  const x = m => width / 2 + (m - middle) * scale, y = side => (r.bunch + r.bottom) / 2 - (side - lane) * scale;
  pen.save(), pen.beginPath(), pen.rect(0, r.bunch, width, tall), pen.clip();
  pen.fillStyle = ink.road, pen.fillRect(0, y(road_m / 2), width, road_m * scale);
  pen.fillStyle = ink.quiet, pen.fillRect(0, y(road_m / 2) - 1, width, 2), pen.fillRect(0, y(-road_m / 2) - 1, width, 2);
  const near = view.riders.filter(o => !o.home && x(o.distance_m) > -60 && x(o.distance_m) < width + 300 && (state.company !== 0 || o.i === me.i));
  for (const o of near) drawWake(o, x, y);
  for (const o of near) drawRider(o, x, y, scale);
  drawNames(view, near, x, y, scale, r);
  pen.restore();
}

function drawWake(o, x, y) {
  if (o.role === waiting) return;
  const drawn_m = 6, rear = o.distance_m - bicycle_m, slope = o.aside_m / (bicycle_m + close_m), half = 0.55;
  const from = o.side_m + slope * bicycle_m, to = o.side_m + slope * (bicycle_m + drawn_m), depth = Math.min(1, o.worth_W / deepest_W);
  const shade = pen.createLinearGradient(x(rear), 0, x(rear - drawn_m), 0);
  shade.addColorStop(0, ink.wake), shade.addColorStop(1, ink.wake + '00');
  pen.globalAlpha = depth, pen.fillStyle = shade;
  pen.beginPath(), pen.moveTo(x(rear), y(from + half * 0.6)), pen.lineTo(x(rear - drawn_m), y(to + half));
  pen.lineTo(x(rear - drawn_m), y(to - half)), pen.lineTo(x(rear), y(from - half * 0.6)), pen.fill();
  pen.globalAlpha = 1;
}

function drawRider(o, x, y, scale) {
  const front = x(o.distance_m), rear = x(o.distance_m - bicycle_m), mine = o.i === state.chosen;
  pen.strokeStyle = ink.ink, pen.lineWidth = Math.max(1.5, 0.07 * scale);
  pen.beginPath(), pen.moveTo(rear, y(o.side_m)), pen.lineTo(front, y(o.side_m)), pen.stroke();
  pen.beginPath(), pen.ellipse(x(o.distance_m - 0.95), y(o.side_m), Math.max(4, 0.4 * scale), Math.max(3, 0.24 * scale), 0, 0, 2 * Math.PI);
  pen.fillStyle = mine ? ink.chosen : ink.rider, pen.fill();
  if (mine) { pen.strokeStyle = ink.chosen, pen.lineWidth = 2, pen.strokeRect(rear - 4, y(o.side_m) - 0.3 * scale - 4, front - rear + 8, 0.6 * scale + 8); }
}

/** The chosen rider first, then those who save most; no name on another. */
function drawNames(view, near, x, y, scale, r) {
  const taken = near.map(o => ({ x: x(o.distance_m - bicycle_m), y: y(o.side_m) - 0.25 * scale, w: bicycle_m * scale, h: 0.5 * scale }));
  const put = (words, left, top, colour, bold) => {
    pen.font = `${bold ? '700 ' : ''}13px system-ui, sans-serif`;
    const box = { x: left, y: top, w: pen.measureText(words).width, h: 16 };
    if (top < r.bunch || top + 16 > r.bottom || left < 2 || left + box.w > width - 2) return false;
    if (taken.some(o => o.x < box.x + box.w + 4 && box.x < o.x + o.w + 4 && o.y < box.y + box.h && box.y < o.y + o.h)) return false;
    taken.push(box), plate(words, left, top + 13, colour, 13, bold);
    return true;
  };
  const rear = near.reduce((a, b) => b.distance_m < a.distance_m ? b : a), back = bicycle_m + close_m;
  if (rear.role !== waiting) {
    const words = `here worth ${Math.round(rear.worth_W)} W`, w = pen.measureText(words).width;
    put(words, Math.max(4, x(rear.distance_m - back) - w - 16), y(rear.side_m + rear.aside_m) - 8, ink.ink, true);
  }
  for (const o of [...near].sort((a, b) => (b.i === state.chosen) - (a.i === state.chosen) || b.saved - a.saved)) {
    const words = o.name + (o.saved > 0 ? ` \u2212${o.saved} W` : ''), left = x(o.distance_m - 0.95) - pen.measureText(words).width / 2;
    const colour = o.i === state.chosen ? ink.chosen : ink.ink, up = y(o.side_m) - 0.35 * scale - 22, down = y(o.side_m) + 0.35 * scale + 8;
    put(words, left, up, colour, o.i === state.chosen) || put(words, left, down, colour, o.i === state.chosen) || put(o.name, left, up, colour) || put(words, left, up - 18, colour);
  }
}

// ---- tables ----

const riderRows = names.map((name, i) => {
  const row = document.createElement('tr'), button = document.createElement('button'), cells = [];
  button.type = 'button', button.textContent = name, button.addEventListener('click', () => { state.chosen = i, fillResults(), show(); });
  for (let k = 0; k < 6; ++k) { const cell = document.createElement('td'); if (k !== 1) cell.className = 'n'; cells.push(cell), row.append(cell); }
  cells[1].append(button);
  return { row, cells, button };
});

function fillRiders(view) {
  const body = $('riders').tBodies[0], first = view.riders[view.order[0]];
  view.order.forEach((i, place) => {
    const { row, cells, button } = riderRows[i], r = view.riders[i];
    const values = [place + 1, null, r.home ? 'home' : (first.home ? length_m : first.distance_m) - r.distance_m < 0.5 ? '' : Math.round((first.home ? length_m : first.distance_m) - r.distance_m),
      r.home ? '' : r.now, r.home ? '' : minus(r.saved), Math.round(100 * r.wbal)];
    values.forEach((value, k) => { if (value !== null) cells[k].textContent = value; });
    row.className = i === state.chosen ? 'chosen' : '', button.setAttribute('aria-pressed', i === state.chosen);
    if (body.children[place] !== row) body.insertBefore(row, body.children[place] || null);
  });
}

function fillResults() {
  const ride = rideNow(), solo = rideOf(state.wind, 0), body = $('results').tBodies[0];
  names.forEach((name, i) => {
    const cells = body.rows[i].cells;
    [name, clock(ride.finish_s[i]), Math.round(ride.mean_W[i]), Math.round(ride.work_kJ[i]), minus(Math.round(ride.saved_kJ[i])), clock(solo.finish_s[i])]
      .forEach((value, k) => { cells[k].textContent = value; });
    body.rows[i].className = i === state.chosen ? 'chosen' : '';
  });
  const winds = ['no wind', 'wind as forecast', 'half more wind'], company = ['each alone', 'in company', 'opposite order'];
  $('which').textContent = state.wind === forecast && state.company === planned ? ', as planned' : `: ${winds[state.wind]}, ${company[state.company]}`;
  $('alone').textContent = `${names[state.chosen]} alone`;
  $('outcome').textContent = outcomeWords(ride);
}

// ---- the moment ----

function show() {
  const ride = rideNow(), slider = $('time');
  slider.max = Math.ceil(endOf(ride)), state.t = Math.min(state.t, endOf(ride)), slider.value = state.t;
  const view = viewAt(ride, state.t), clockWords = clock(Math.floor(view.t), true);
  pen.clearRect(0, 0, width, height);
  drawProfile(view), drawStrip(ride, view), drawBunch(view), fillRiders(view);
  $('clock').textContent = clockWords, slider.setAttribute('aria-valuetext', clockWords);
  $('number').textContent = numberWords(view.riders[state.chosen]);
  const words = captionWords(ride, view);
  if ($('caption').textContent !== words) $('caption').textContent = words;
}

let before = 0;
function tick(now) {
  if (!state.playing) return;
  state.t += Math.min(0.25, (now - before) / 1000) * Number($('speed').value), before = now;
  if (state.t >= endOf(rideNow())) setPlaying(false);
  show();
  requestAnimationFrame(tick);
}

function setPlaying(on) {
  if (on && state.t >= endOf(rideNow())) state.t = 0;
  state.playing = on, before = performance.now();
  $('play').textContent = on ? 'Pause' : 'Play', $('play').setAttribute('aria-pressed', on);
  if (on) requestAnimationFrame(tick);
}

/** #t=600&rider=Katja&wind=0&company=1: a moment to send along. */
function follow() {
  const asked = new URLSearchParams(location.hash.slice(1)), whole = (key, most) => { const v = Number(asked.get(key)); return Number.isInteger(v) && v >= 0 && v <= most; };
  if (asked.has('t') && isFinite(asked.get('t'))) state.t = Math.max(0, Number(asked.get('t')));
  if (names.includes(asked.get('rider'))) state.chosen = names.indexOf(asked.get('rider'));
  for (const key of ['wind', 'company']) if (asked.has(key) && whole(key, 2)) {
    state[key] = Number(asked.get(key));
    document.querySelector(`input[name=${key}][value="${state[key]}"]`).checked = true;
  }
}

$('play').addEventListener('click', () => setPlaying(!state.playing));
$('time').addEventListener('input', event => { state.t = Number(event.target.value), show(); });
for (const input of document.querySelectorAll('input[type=radio]'))
  input.addEventListener('change', () => { state[input.name] = Number(input.value), fillResults(), show(); });
canvas.addEventListener('click', event => {  // on the profile or the strip: go to where the chosen rider is there
  if (event.offsetY > rows().strip) return;
  const m = (event.offsetX - rows().left) / (rows().right - rows().left) * length_m, ride = rideNow();
  let k = 0;
  while (k < ride.time.length - 1 && ride.place[k * count + state.chosen] * book.place_step_m < m) ++k;
  state.t = ride.time[k] / 10, show();
});
document.addEventListener('keydown', event => {
  if (event.key === ' ' && event.target === document.body) event.preventDefault(), setPlaying(!state.playing);
});
addEventListener('resize', () => { prepare(), show(); });
addEventListener('hashchange', () => { follow(), fillResults(), show(); });
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => { prepare(), show(); });
document.documentElement.classList.add('live');
follow(), prepare(), fillResults(), show();
window.leewheel = { viewAt, rideOf };  // for who wants the numbers
})();
