// Compares the public holidays of eight regions, as the program lists them, with the npm package date-holidays (its type "public" alone):
// every weekday of 2025 to 2028. Exit code 1 where they disagree about any.
//
//   node compare-holidays.mjs ../../src/Workshop.Service/bin/Debug/net10.0/Workshop.Service.dll [--break]
//
// --break takes one holiday from what the program says and adds one that is none: a comparison that can find nothing is worth nothing.

import { execFileSync } from 'node:child_process';
import Holidays from 'date-holidays';
import { disagreements, from, through, weekdays } from './weekdays.mjs';

const regions = ['DE', 'DE-BW', 'DE-SN', 'DE-NW', 'AT', 'FR', 'IE', 'GB-ENG'];
const [program, ...options] = process.argv.slice(2);
if (!program) {
  console.error('Say where Workshop.Service.dll is.');
  process.exit(2);
}

function ours(region) {
  const said = execFileSync('dotnet', [program, 'holidays', '--region', region, '--from', `${from}`, '--through', `${through}`, '--json'], { encoding: 'utf8' });
  return new Map(JSON.parse(said).dates.map(day => [day.date, day.name]));
}

function theirs(region) {
  const calendar = new Holidays(...region.split('-'));
  const days = new Map();
  for (let year = from; year <= through; year++) {
    for (const holiday of calendar.getHolidays(year).filter(one => one.type === 'public')) {
      days.set(holiday.date.slice(0, 10), holiday.name);
    }
  }

  return days;
}

let compared = 0;
let found = 0;
for (const region of regions) {
  const [said, known] = [ours(region), theirs(region)];
  if (said.size === 0 || known.size === 0) {
    console.error(`${region}: one of the lists is empty.`);
    process.exit(2);
  }

  if (options.includes('--break') && region === regions[0]) {
    said.delete('2026-01-01');
    said.set('2026-01-05', 'No holiday at all');
  }

  compared += weekdays(from, through).length;
  for (const { date, ours: here, theirs: there } of disagreements(said, known)) {
    found++;
    console.log(`${region} ${date}: the program says ${here ?? 'no holiday'}, date-holidays says ${there ?? 'no holiday'}`);
  }
}

console.log(`${compared} weekdays of ${regions.length} regions compared, ${found} disagreements`);
process.exitCode = found === 0 ? 0 : 1;
