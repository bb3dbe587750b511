// The overlay that a log taught: read only where the trip names it.
#include "readers.hpp"

namespace skerry::files {

namespace {

void read_tables(Cursor& root, const Reading::Named& named, Reading& reading) {
  auto cursor = root.table("people");
  if (!cursor) return;
  cursor->rename("[people]");
  const auto weekday = cursor->numbers<24>("weekday");
  const auto weekend = cursor->numbers<24>("weekend");
  cursor->finish();
  People& listeners = reading.trip.listeners;
  if (listeners.weekday || listeners.weekend) {
    Error error;
    error.found = "[people]";
    error.accepted = "hours from one place";
    error.mend = "the trip has [people] tables of its own: take one of the two away";
    reading.pass_on(named, std::move(error));
    return;
  }
  listeners.weekday = weekday;
  listeners.weekend = weekend;
  reading.trip.learned.people = weekday && weekend;
}

}  // namespace

void read_named_learned(Reading& reading) {
  if (!reading.learned_named) return;
  const auto& named = *reading.learned_named;
  const auto text = reading.fetch(named);
  if (!text) return;
  const auto document = parse_document(*text, named.file);
  if (!document) return reading.pass_on(named, document.error());
  Mistakes mistakes(named.file);
  Cursor root(*document, "learned file", "the file", mistakes);
  Learned& out = reading.trip.learned;
  out.file = named.file;
  within_mistakes([&] {
    if (auto cursor = root.table("learned")) {
      cursor->rename("[learned]");
      cursor->fill(out);
      // For people to read, and checked all the same.
      (void)cursor->numbers<2>("erp_db_90");
      (void)cursor->number("far_noise_probability");
      (void)cursor->day("made");
      cursor->finish();
    } else if (!root.has("learned")) {
      root.missing("[learned]", "a table, as 'skerry log TRIP LOG --learn FILE' writes it", {});
    }
    read_tables(root, named, reading);
    root.finish();
  });
  for (auto& error : mistakes.take()) reading.pass_on(named, std::move(error));
  if (out.far_noise != 0) {
    for (auto& target : reading.trip.targets)
      target.partner.environment = shifted(target.partner.environment, out.far_noise);
  }
}

}  // namespace skerry::files
