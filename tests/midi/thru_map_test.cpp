#include "midi/fake_output.hpp"
#include "midi/sender_rig.hpp"
#include "midi/thru_map.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::midi;
using namespace landfall::midi::test;

namespace {

Lines texts(const Thru::Passed& passed) {
  Lines lines;
  for (std::size_t i = 0; i < passed.count; ++i)
    lines.push_back(text(passed.messages[i]));
  return lines;
}

/// Members on channels 2 to 4, sounding on 11 to 13.
ThruMap zone() {
  auto map = folded_thru(ThruMap::dropped);
  for (int member = 1; member <= 3; ++member)
    map.channels[static_cast<std::size_t>(member)] = static_cast<std::int8_t>(9 + member);
  map.manager = 0;
  map.members = 0b1110;
  map.manager_bend = 2.0F / 48;
  return map;
}

} // namespace

TEST_CASE("straight, folded and filtered") {
  Thru thru;
  CHECK(texts(thru.pass(note_on(5, 60, 80))) == Lines{"on 5 60 80"});
  thru.set(folded_thru(2));
  CHECK(texts(thru.pass(note_on(5, 60, 80))) == Lines{"on 2 60 80"});
  CHECK(texts(thru.pass(bend(5, 0))) == Lines{"bend 2 0 64"});
  thru.set(only(folded_thru(2), 0b1));
  CHECK(texts(thru.pass(note_on(5, 60, 80))).empty());
  CHECK(texts(thru.pass(note_on(0, 60, 80))) == Lines{"on 2 60 80"});
}

TEST_CASE("what a zone's manager says reaches all members; its bend is added to theirs") {
  Thru thru;
  thru.set(zone());
  CHECK(texts(thru.pass(note_on(1, 60, 80))) == Lines{"on 10 60 80"});
  CHECK(texts(thru.pass(control(0, controller::sustain, 127))) ==
        Lines{"cc 10 64 127", "cc 11 64 127", "cc 12 64 127"});
  CHECK(texts(thru.pass(bend(2, 2400))) == Lines{text(bend(11, 2400))});
  CHECK(texts(thru.pass(bend(0, 4800))) ==
        Lines{text(bend(10, 200)), text(bend(11, 2600)), text(bend(12, 200))});
  CHECK(texts(thru.pass(bend(2, 8191))) == Lines{text(bend(11, 8191))});
  CHECK(texts(thru.pass(note_on(0, 60, 80))).empty()); // no member
  CHECK(texts(thru.pass(note_on(7, 60, 80))).empty());
}

TEST_CASE("a lane whose map changes lets its notes and pedals go where they sounded") {
  Rig rig;
  auto& lane = rig.links.thru[0];
  lane.map.publish(zone());
  lane.open = true;
  rig.step();
  lane.queue.push({rig.now, note_on(1, 60, 80)});
  lane.queue.push({rig.now, note_on(2, 64, 80)});
  lane.queue.push({rig.now, control(0, controller::sustain, 127)});
  rig.step();
  rig.output.sent.clear();
  lane.map.publish(folded_thru(2));
  lane.queue.push({rig.now, note_on(1, 67, 80)});
  rig.step();
  Lines lines;
  for (const auto& each : rig.output.sent)
    lines.push_back(text(each.message));
  std::sort(lines.begin(), lines.end());
  CHECK(lines ==
        Lines{"cc 10 64 0", "cc 11 64 0", "cc 12 64 0", "off 10 60", "off 11 64", "on 2 67 80"});
}
