#include "real/score.hpp"

#include "midi/fake_output.hpp"

#include <algorithm>

namespace landfall::real {
namespace {

bool is_note(const midi::ShortMessage& message) {
  return midi::is_note_on(message) || midi::is_note_off(message);
}

} // namespace

std::size_t Score::notes() const {
  std::size_t count = 0;
  for (const auto& moment : moments)
    count += moment.notes.size();
  return count;
}

Score Score::from(Ticks tick) const {
  Score rest;
  rest.programs = programs;
  for (const auto& moment : moments)
    if (moment.at >= tick)
      rest.moments.push_back(moment);
  return rest;
}

midi::smf::File read_song(const std::string& path) {
  const auto bytes = read_file(path);
  const std::vector<std::uint8_t> copy(bytes.begin(), bytes.end());
  const auto file = midi::smf::read(copy);
  INFO(path);
  REQUIRE(file);
  return *file;
}

Score score_of(const midi::smf::File& file) {
  Score score;
  std::map<std::pair<Ticks, bool>, std::vector<std::string>> moments;
  for (const auto& track : file.tracks)
    for (const auto& event : track.events)
      if (const auto* message = std::get_if<midi::ShortMessage>(&event.content)) {
        if (is_note(*message))
          moments[{event.at, midi::is_note_on(*message)}].push_back(midi::test::text(*message));
        else if (midi::status_of(*message) == midi::Status::program)
          score.programs[midi::channel_of(*message)] = message->bytes[1];
      }
  for (auto& [key, notes] : moments) {
    std::sort(notes.begin(), notes.end());
    score.moments.push_back({key.first, key.second, std::move(notes)});
  }
  return score;
}

Score exported(const Studio& studio, const Command& song) {
  const auto path = studio.program.file("song.mid");
  Command command{"export"};
  command.insert(command.end(), song.begin(), song.end());
  command.insert(command.end(), {"-o", path});
  const auto done = studio.program.run(command);
  INFO(done.err);
  REQUIRE(done.exit == 0);
  return score_of(read_song(path));
}

Heard heard(const std::vector<Recorded>& recorded, int without_channel) {
  Heard result;
  std::map<int, int> programs;
  for (const auto& entry : recorded) {
    const int channel = midi::channel_of(entry.message);
    if (midi::status_of(entry.message) == midi::Status::program)
      programs[channel] = entry.message.bytes[1];
    if (!is_note(entry.message) || channel == without_channel)
      continue;
    if (const auto now = programs.find(channel); now != programs.end())
      result.programs.insert(*now);
    result.notes.push_back(entry);
  }
  return result;
}

std::vector<std::pair<std::uint64_t, Ticks>> follow(const Heard& heard, const Score& score) {
  std::vector<std::pair<std::uint64_t, Ticks>> times;
  std::size_t at = 0;
  for (const auto& moment : score.moments) {
    CAPTURE(moment.at.count);
    CAPTURE(moment.on);
    REQUIRE(at + moment.notes.size() <= heard.notes.size());
    std::vector<std::string> came;
    for (std::size_t i = 0; i < moment.notes.size(); ++i, ++at) {
      came.push_back(midi::test::text(heard.notes[at].message));
      times.emplace_back(heard.notes[at].frame, moment.at);
    }
    std::sort(came.begin(), came.end());
    REQUIRE(came == moment.notes);
  }
  CHECK(at == heard.notes.size());
  return times;
}

std::vector<std::string> hanging(const std::vector<Recorded>& recorded) {
  std::vector<midi::test::Sent> sent;
  for (const auto& entry : recorded)
    sent.push_back({entry.message, {}});
  std::vector<std::string> notes;
  for (const auto& [key, count] : midi::test::hanging(sent))
    notes.push_back(std::to_string(key.first) + ":" + std::to_string(key.second));
  return notes;
}

} // namespace landfall::real
