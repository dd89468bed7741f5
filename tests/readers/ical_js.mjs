// Prints every event of some calendar files as ical.js reads them: one JSON list a file.
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const read = (path) => {
  ICAL.TimezoneService.reset();
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(path, "utf8")));
  for (const zone of calendar.getAllSubcomponents("vtimezone")) {
    ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  }
  return calendar.getAllSubcomponents("vevent").map((part) => {
    const event = new ICAL.Event(part);
    const moment = (time) => (time.isDate ? time.toString() : time.toUnixTime());
    return [event.uid, moment(event.startDate), moment(event.endDate), event.summary];
  });
};

console.log(JSON.stringify(process.argv.slice(2).map(read)));
