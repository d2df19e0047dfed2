#pragma once

#include "app/pages.hpp"
#include "practice/set_list.hpp"

#include <filesystem>
#include <functional>

namespace landfall::app {

/// A set list and its file.
struct SetListFile {
  std::filesystem::path path;
  practice::SetList list;
};

/// Every set list of the player's that can be read, by file name. `problem` is one line about those
/// that cannot.
std::vector<SetListFile> read_set_lists(const std::filesystem::path& folder, std::string& problem);

/// Writes one, to a file named after its title where it has none yet; the reason for a failure, or
/// an empty text.
std::string write_set_list(const std::filesystem::path& folder, SetListFile& file);

/// Set lists, made and played: songs are added as they stand, moved and taken out.
class SetListPage final : public Page {
public:
  struct Calls {
    std::function<void(const SetListFile& file, std::size_t song)> play;
    std::function<void(const std::string& words)> say;
  };

  /// `present` is the song that is open, as it stands.
  SetListPage(std::filesystem::path folder, practice::SongPlan present, Calls calls);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override { list_.move(-steps); }

private:
  struct Row {
    std::size_t file = 0;
    std::optional<std::size_t> song; ///< None: a row that adds.
  };

  void rebuild();
  void choose();
  void add_to(std::size_t file);
  void make_new();
  void remove();
  void move(int steps);
  void keep(std::size_t file);
  std::optional<Row> selected() const;

  std::filesystem::path folder_;
  practice::SongPlan present_;
  Calls calls_;
  std::vector<SetListFile> files_;
  std::vector<Row> rows_; ///< By the number in their value.
  ChoiceList list_;
};

/// `Bb · 92 bpm · shuffle · E shape`; empty where all is as the song has it.
std::string plan_words(const practice::SongPlan& plan);

} // namespace landfall::app
