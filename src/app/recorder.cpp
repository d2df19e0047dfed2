#include "app/recorder.hpp"

#include "app/data.hpp"
#include "midi/message.hpp"

#include <algorithm>
#include <ctime>

namespace landfall::app {
namespace {

bool may_stand_in_a_name(char c) {
  return static_cast<unsigned char>(c) >= ' ' &&
         std::string_view("/\\:*?\"<>|").find(c) == std::string_view::npos;
}

std::string stamp(std::chrono::system_clock::time_point when) {
  const auto seconds = std::chrono::system_clock::to_time_t(when);
  std::tm local{};
  localtime_r(&seconds, &local);
  std::array<char, 32> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%d %H%M", &local);
  return text.data();
}

std::filesystem::path unused(const std::filesystem::path& folder, const std::string& name) {
  auto path = folder / (name + ".mid");
  std::error_code ignored;
  for (int number = 2; std::filesystem::exists(path, ignored) && number < 1000; ++number)
    path = folder / (name + " (" + std::to_string(number) + ").mid");
  return path;
}

} // namespace

void Recorder::begin(std::uint64_t run, Player player) {
  run_ = run;
  player_ = std::move(player);
  messages_.clear();
  turns_.clear();
}

void Recorder::trade(practice::TradeTurn turn) {
  if (turns_.size() >= most_turns)
    turns_.erase(turns_.begin(), turns_.begin() + most_turns / 2);
  turns_.push_back(std::move(turn));
}

void Recorder::hear(Ticks at, const midi::ShortMessage& message) {
  if (message.size == 0 || message.bytes[0] >= 0xF0)
    return;
  if (messages_.size() >= most_messages)
    messages_.erase(messages_.begin(), messages_.begin() + most_messages / 2);
  messages_.push_back({at, message});
}

Recording Recorder::finish(const Performed& performed, Ticks to) const {
  Recording recording;
  auto& take = recording.take;
  take.head.song = performed.song;
  take.head.timeline = *performed.timeline;
  take.head.seed = performed.seed;
  take.head.from = -performed.timeline->count_in;
  take.head.to = std::max(to, take.head.from + Ticks{1});
  take.instrument = player_.instrument;
  take.input = player_.input;
  take.split = player_.split;
  take.player = messages_;
  std::stable_sort(take.player.begin(), take.player.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  take.trade = turns_;
  recording.band = performed.band;
  recording.notes = static_cast<std::size_t>(
      std::count_if(messages_.begin(), messages_.end(),
                    [](const auto& each) { return midi::is_note_on(each.message); }));
  return recording;
}

std::filesystem::path takes_folder() {
  return user_data_folder() / "takes";
}

std::string take_file_name(const std::string& title, std::chrono::system_clock::time_point when) {
  constexpr std::size_t longest = 60;
  std::string name;
  for (const char c : title)
    if (may_stand_in_a_name(c) && name.size() < longest)
      name += c;
  return stamp(when) + (name.empty() ? "" : " " + name);
}

std::string save_recording(const Recording& recording, const band::FeelBook& feels,
                           const std::filesystem::path& folder, const std::string& name) {
  std::error_code failed;
  std::filesystem::create_directories(folder, failed);
  if (failed)
    return "the take could not be kept: " + folder.string() + ": " + failed.message();
  const auto path = unused(folder, name);
  const auto bytes = take_bytes(recording.take, recording.band, feels);
  const auto reason = write_file(path, {bytes.begin(), bytes.end()});
  return reason.empty() ? "kept as " + path.filename().string()
                        : "the take could not be kept: " + reason;
}

} // namespace landfall::app
