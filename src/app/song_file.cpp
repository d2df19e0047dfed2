#include "app/song_file.hpp"

#include "app/chunks.hpp"
#include "midi/message.hpp"
#include "song/timeline.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

using midi::smf::Track;

const char* name_of(band::Part part) {
  switch (part) {
  case band::Part::drums:
    return "drums";
  case band::Part::bass:
    return "bass";
  case band::Part::comping:
    return "comping";
  case band::Part::click:
    break;
  }
  return "click";
}

int program_of(const band::Feel& feel, band::Part part) {
  if (part == band::Part::bass)
    return feel.sounds.bass;
  return part == band::Part::comping ? feel.sounds.comping : feel.sounds.kit;
}

class FileBuilder {
public:
  explicit FileBuilder(const Recorded& recorded) : recorded_(recorded) {}

  midi::smf::File build() {
    file_.tracks.push_back(head());
    const auto events = performed(recorded_.plans);
    for (const auto part : recorded_.parts)
      add_part(part, events);
    if (!recorded_.player.empty())
      add_player();
    for (auto& track : file_.tracks) {
      track.sort();
      track.end = std::max(track.end, recorded_.to - recorded_.from);
    }
    return std::move(file_);
  }

private:
  bool holds(Ticks tick) const { return tick >= recorded_.from && tick < recorded_.to; }
  Ticks placed(Ticks tick) const { return std::max(tick - recorded_.from, Ticks{}); }

  Track head() const {
    Track track;
    track.add({}, midi::smf::Text{midi::smf::TextKind::track_name, recorded_.title});
    track.add({}, recorded_.timeline->tempo_at(recorded_.from));
    for (const auto& [at, tempo] : recorded_.timeline->tempi)
      if (at > recorded_.from && at < recorded_.to)
        track.add(placed(at), tempo);
    add_bars(track);
    return track;
  }

  void add_bars(Track& track) const {
    std::optional<song::Meter> meter;
    std::optional<theory::Key> key;
    for (const auto& stretch : recorded_.timeline->performance.stretches())
      for (const auto& bar : stretch.form->bars) {
        const auto at = stretch.start + (bar.start - stretch.from);
        if (bar.start < stretch.from || bar.start >= stretch.to || !holds(at))
          continue;
        if (meter != bar.meter)
          add_meter(track, meter ? placed(at) : Ticks{}, *(meter = bar.meter));
        if (key != bar.key)
          add_key(track, key ? placed(at) : Ticks{}, *(key = bar.key));
        add_names(track, bar, at);
      }
  }

  static void add_meter(Track& track, Ticks at, song::Meter meter) {
    track.add(at, midi::smf::Metre{meter.beats, meter.unit});
  }

  static void add_key(Track& track, Ticks at, theory::Key key) {
    const int signs = std::clamp(signature(usual_key(key)), -7, 7);
    track.add(at, midi::smf::KeySignature{signs, key.minor});
  }

  void add_names(Track& track, const song::Bar& bar, Ticks at) const {
    if (bar.section_start && !bar.section.empty())
      track.add(placed(at), midi::smf::Text{midi::smf::TextKind::cue, bar.section});
    for (const auto& change : bar.chords)
      if ((change.fresh || change.written) && holds(at + change.at))
        track.add(placed(at + change.at),
                  midi::smf::Text{midi::smf::TextKind::marker,
                                  change.chord ? ascii(*change.chord) : "N.C."});
  }

  void add_part(band::Part part, const std::vector<band::Event>& events) {
    Track track;
    track.add({}, midi::smf::Text{midi::smf::TextKind::track_name, name_of(part)});
    bool any = false;
    for (const auto& event : events)
      if (event.part == part && event.at < recorded_.to &&
          event.at + event.length > recorded_.from) {
        any = true;
        track.add_note(placed(event.at), event.length, channel_of(part), event.note.number,
                       event.velocity);
      }
    if (!any)
      return;
    std::optional<int> sound;
    for (const auto& plan : recorded_.plans)
      if (const int program = program_in(plan, part);
          program != sound && plan.to > recorded_.from) {
        sound = program;
        track.add(placed(plan.from), midi::program(channel_of(part), program));
      }
    file_.tracks.push_back(std::move(track));
  }

  int program_in(const practice::Plan& plan, band::Part part) const {
    const bool held = plan.drone && (part == band::Part::bass || part == band::Part::comping);
    return held ? drone_program : program_of(*recorded_.feels->find(plan.feel), part);
  }

  void add_player() {
    Track track;
    track.add({}, midi::smf::Text{midi::smf::TextKind::track_name, "player"});
    for (const auto& [at, message] : recorded_.player)
      if (holds(at) && message.size > 0 && message.bytes[0] < 0xF0)
        track.add(placed(at), message);
    file_.tracks.push_back(std::move(track));
  }

  const Recorded& recorded_;
  midi::smf::File file_;
};

/// Time from the file's start.
song::TempoMap tempo_map(const Recorded& recorded) {
  song::TempoMap map(recorded.timeline->tempo_at(recorded.from));
  for (const auto& [at, tempo] : recorded.timeline->tempi)
    if (at > recorded.from)
      map.change(at - recorded.from, tempo);
  return map;
}

} // namespace

std::vector<practice::Plan> plan_to_the_end(practice::Session& session) {
  session.start();
  std::vector<practice::Plan> plans;
  for (Ticks now;; now += quarter * 4) {
    session.advance(now);
    auto more = session.take_plans();
    std::move(more.begin(), more.end(), std::back_inserter(plans));
    if (const auto last = session.last_tick(); last && now >= *last)
      return plans;
  }
}

std::vector<band::Event> performed(std::span<const practice::Plan> plans) {
  std::vector<band::Event> events;
  for (const auto& plan : plans) {
    while (!events.empty() && events.back().at >= plan.from)
      events.pop_back();
    const auto middle = static_cast<std::ptrdiff_t>(events.size());
    events.insert(events.end(), plan.events.begin(), plan.events.end());
    // anticipations lie before the plan's start, among the last notes of the one before
    std::inplace_merge(events.begin(), events.begin() + middle, events.end(),
                       [](const auto& a, const auto& b) { return a.at < b.at; });
  }
  return events;
}

midi::smf::File file_of(const Recorded& recorded) {
  return FileBuilder(recorded).build();
}

Nanoseconds time_of(const Recorded& recorded, Ticks performance_tick) {
  return tempo_map(recorded).time_at(performance_tick - recorded.from);
}

std::vector<midi::ScheduledMessage> schedule_of(const Recorded& recorded) {
  const auto tempo = tempo_map(recorded);
  const auto file = file_of(recorded);
  std::vector<midi::ScheduledMessage> messages;
  for (const auto& track : file.tracks)
    for (const auto& event : track.events)
      if (const auto* message = std::get_if<midi::ShortMessage>(&event.content))
        messages.push_back({tempo.time_at(event.at), *message});
  std::stable_sort(messages.begin(), messages.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  return messages;
}

} // namespace landfall::app
