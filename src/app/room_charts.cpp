#include "app/chart_page.hpp"
#include "app/data.hpp"
#include "app/room.hpp"

namespace landfall::app {
namespace {

std::filesystem::path draft_file() {
  return user_data_folder() / "quick-chart.draft";
}

/// `Slipway at Six` as files are called: slipway-at-six.
std::string file_name_of(const std::string& title) {
  std::string name;
  for (const char c : title) {
    const auto byte = static_cast<unsigned char>(c);
    const bool stays = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || byte >= 0x80;
    if (stays)
      name += c;
    else if (c >= 'A' && c <= 'Z')
      name += static_cast<char>(c - 'A' + 'a');
    else if (c != '\'' && !name.empty() && name.back() != '-')
      name += '-';
  }
  while (name.ends_with('-'))
    name.pop_back();
  return name.empty() ? "untitled" : name.substr(0, 80);
}

std::string write_into(const std::filesystem::path& path, const std::string& text) {
  std::error_code failed;
  std::filesystem::create_directories(path.parent_path(), failed);
  return failed ? failed.message() : write_file(path, text);
}

} // namespace

void Room::open_quick_chart() {
  const auto draft = read_file(draft_file());
  auto chart = draft.error.empty() ? QuickChart::from_draft(draft.text) : QuickChart();
  ChartPage::Calls calls;
  calls.hear = [this](const song::Song& song) { hear_chart(song); };
  calls.save = [this](const auto& text, const auto& title, bool over) {
    return save_chart(text, title, over);
  };
  calls.keep = [this](const std::string& text) {
    background_.post([text]() -> std::string {
      const auto reason = write_into(draft_file(), text);
      return reason.empty() ? "" : "the draft could not be kept: " + reason;
    });
  };
  calls.say = [this](const std::string& words) { say(words); };
  open(std::make_unique<ChartPage>(std::move(chart), std::move(calls)));
}

/// From its top, at once; without a count-in where the band plays already.
void Room::hear_chart(const song::Song& song) {
  practice::Session::Setup setup;
  setup.song = std::make_shared<const song::Song>(song);
  setup.feels = feels_;
  setup.choice = choice();
  setup.choice.key = song.key;
  setup.choice.tempo = song.tempo;
  setup.choice.feel.clear();
  setup.choice.loop.reset();
  const bool rolling = conductor_.rolling();
  if (rolling)
    setup.count_in_bars = 0;
  remember_song();
  song_has_name_ = false;
  setup.seed = seed_;
  hands_.forget_played();
  conductor_.set_up(std::move(setup));
  if (!rolling)
    conductor_.start();
}

bool Room::save_chart(const std::string& text, const std::string& title, bool over) {
  const auto path = user_data_folder() / "songs" / (file_name_of(title) + ".song");
  std::error_code ignored;
  if (!over && std::filesystem::exists(path, ignored)) {
    say("there is a song of that name: Ctrl+S once more writes over it");
    return false;
  }
  if (const auto reason = write_into(path, text); !reason.empty()) {
    say("it could not be saved: " + reason);
    return false;
  }
  settings_.song = file_name_of(title);
  song_has_name_ = true;
  say("saved as " + path.filename().string());
  return true;
}

} // namespace landfall::app
