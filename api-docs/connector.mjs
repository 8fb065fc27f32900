// A storefront's connection to the workshop, small enough to be read in ten minutes: it posts what customers do, signed; serves the same as
// an inbox; and takes the workshop's messages. Node 20 or newer, and one package: npm install standardwebhooks
//   WORKSHOP   the workshop's address, e.g. http://127.0.0.1:5080; left out, everything waits in the inbox
//   SECRET     what we sign with (the workshop draws it); also for the inbox, unless INBOX_SECRET is set
//   HOOK_SECRET what the workshop signs with; several with blanks between them while one is being exchanged
//   SOURCE     who we are to the workshop, e.g. /storefront/shop        PORT  where we listen        STATE  the file we remember in
//   TRIAL_KEY  opens the control interface for "workshop trial storefront"; never set it in a shop
import { createServer } from 'node:http';
import { randomUUID } from 'node:crypto';
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { Webhook } from 'standardwebhooks';

const { WORKSHOP, SECRET, HOOK_SECRET = '', INBOX_SECRET, SOURCE = '/storefront/shop', PORT = '7800', STATE = 'connector-state.json', TRIAL_KEY } = process.env;
const me = { workshop: WORKSHOP, secret: SECRET, hooks: HOOK_SECRET.split(' ').filter(Boolean), inbox: INBOX_SECRET ?? SECRET, source: SOURCE };
const blank = () => ({ events: [], heard: [], watches: {}, attention: [] });
let mind = existsSync(STATE) ? JSON.parse(readFileSync(STATE, 'utf8')) : blank();
const say = (...words) => console.log(new Date().toISOString(), ...words);

// Written beside and renamed: a power cut leaves the old file or the new one.
function keep() {
  writeFileSync(`${STATE}.new`, JSON.stringify(mind));
  renameSync(`${STATE}.new`, STATE);
}

const signed = (secret, id, body) => {
  const now = new Date();
  return { 'webhook-id': id, 'webhook-timestamp': `${Math.floor(now / 1000)}`, 'webhook-signature': new Webhook(secret).sign(id, now, body) };
};

function isSigned(secrets, headers, body) {
  return secrets.some((secret) => {
    try { new Webhook(secret).verify(body, headers, { jsonParse: false }); return true; } catch { return false; }
  });
}

// Something happened in the shop: it gets its number and its id once, and both stay whatever becomes of the sending.
function tell(type, data) {
  const sequence = mind.events.length + 1;
  const id = randomUUID();
  const event = { specversion: '1.0', id, source: me.source, type, time: new Date().toISOString(), sequence: `${sequence}`, data };
  mind.events.push({ id, text: JSON.stringify(event), sent: false });
  keep();
  say('kept', type, `number ${sequence}`);
  return id;
}

// In order, one after the other; the first that is not taken ends it, and all wait for the next time.
let sending = Promise.resolve();
const send = () => (sending = sending.then(sendWaiting));
async function sendWaiting() {
  if (!me.workshop || !me.secret) return;
  for (const one of mind.events.filter((event) => !event.sent)) {
    try {
      const answer = await fetch(new URL('/v1/storefront/events', me.workshop), {
        method: 'POST', body: one.text, redirect: 'error', signal: AbortSignal.timeout(15000),
        headers: { 'content-type': 'application/cloudevents+json', ...signed(me.secret, `msg_${one.id}`, one.text) },
      });
      const told = await answer.json();
      if (answer.status !== 202) return say('not taken', answer.status, told.detail ?? '');
      one.sent = true;
      for (const flag of told.flags) mind.attention.push(`${JSON.parse(one.text).type}: ${flag}`);
      keep();
      say('taken', JSON.parse(one.text).type, told.flags.join(' '));
    } catch (error) {
      return say('the workshop cannot be reached;', `${error.message};`, 'all is kept');
    }
  }
}

// A message of the workshop: once each, and an older state never takes the place of a newer one.
function hear(id, event) {
  if (mind.heard.includes(id)) return say('again', event.type);
  mind.heard.push(id);
  const { data = {} } = event;
  const about = data.job ?? data.arrival;
  const known = mind.watches[about] ?? { version: 0 };
  if (about && (data.version ?? 0) >= known.version) {
    mind.watches[about] = { ...known, version: data.version ?? 0, last: event.type, order: data.order ?? known.order, stage: data.publicStage ?? data.public?.stage ?? known.stage };
    if (data.quote) mind.watches[about].quote = Math.max(data.quote, known.quote ?? 0);
  }
  keep();
  say('heard', event.type, about ?? '', data.publicStage ?? data.public?.stage ?? '');
}

function inboxPage(query) {
  const after = Number(query.get('after') ?? 0);
  const limit = Math.min(Number(query.get('limit') ?? 100), 100);
  return `[${mind.events.slice(after, after + limit).map((event) => event.text).join(',')}]`;
}

const control = {
  reset: (to) => { Object.assign(me, { workshop: to.service, secret: to.secret, hooks: to.hookSecrets, inbox: to.secret, source: to.source }); mind = blank(); keep(); },
  secrets: (to) => { me.secret = to.secret ?? me.secret; me.inbox = me.secret; me.hooks = to.hookSecrets ?? me.hooks; },
  tell: (to) => { tell(to.type, to.data); },
  wake: () => send(),
  state: () => ({
    hook: `http://127.0.0.1:${PORT}/workshop-hook`, inbox: `http://127.0.0.1:${PORT}/workshop-inbox`, heard: mind.heard.length, watches: mind.watches,
    waiting: mind.events.filter((event) => !event.sent).map((event) => event.id), attention: mind.attention,
  }),
};

async function answer(request, response) {
  const url = new URL(request.url, 'http://here');
  const chunks = [];
  for await (const chunk of request) chunks.push(chunk);
  const body = Buffer.concat(chunks).toString('utf8');
  const reply = (status, text = '', headers = {}) => response.writeHead(status, headers).end(text);
  if (request.method === 'GET' && url.pathname === '/workshop-inbox') {
    // What is signed of a question is its query, without the question mark.
    if (!isSigned([me.inbox], request.headers, url.search.slice(1))) return reply(401);
    const page = inboxPage(url.searchParams);
    return reply(200, page, { 'content-type': 'application/cloudevents-batch+json', ...signed(me.inbox, `inbox_${randomUUID()}`, page) });
  }
  if (request.method === 'POST' && url.pathname === '/workshop-hook') {
    if (!isSigned(me.hooks, request.headers, body)) return reply(401);
    hear(request.headers['webhook-id'], JSON.parse(body));
    return reply(204);
  }
  // For the shop's own program, on this machine: POST /tell {"type": …, "data": …}
  if (request.method === 'POST' && url.pathname === '/tell') {
    const { type, data } = JSON.parse(body);
    tell(type, data);
    await send();
    return reply(200, `${JSON.stringify(control.state())}\n`);
  }
  const trial = TRIAL_KEY && request.headers.authorization === `Bearer ${TRIAL_KEY}` && url.pathname.startsWith('/trial/') && control[url.pathname.slice(7)];
  return trial ? reply(200, JSON.stringify((await trial(body ? JSON.parse(body) : {})) ?? {})) : reply(404);
}

createServer((request, response) => answer(request, response).catch((error) => { say('failed', error.message); response.writeHead(400).end(); }))
  .listen(Number(PORT), '127.0.0.1', () => say('listening on', PORT));
if (!TRIAL_KEY) setInterval(send, 5000);
