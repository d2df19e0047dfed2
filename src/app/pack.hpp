#pragma once

#include "app/handout.hpp"
#include "app/library.hpp"
#include "app/pack_files.hpp"
#include "app/pack_index.hpp"
#include "app/sheet_paint.hpp"

#include <functional>

namespace landfall::app {

/// What goes home with a student.
struct PackWishes {
  HandoutWishes handout;
  sheet::Faces faces;
  std::vector<int> percents; ///< Of the tempo, one loop each, from the first.
  int choruses = 1;          ///< Of each loop.
  bool sound = true;         ///< Loops as WAV too.
  std::shared_ptr<const FeelFolder> feels;
  std::function<bool()> stopped; ///< Whether to give up.
};

/// Something to play over: a song as asked for, or as a scene of a lesson has it.
struct PackGround {
  LoadedSong song;
  theory::Key key;
  double beats_per_minute = 0;
  std::string feel; ///< "" leaves the song its own.
  std::optional<practice::BarRange> bars;

  std::string title() const;
  bool same_as(const PackGround& other) const;
};

/// The song in the key and at the tempo and feel that are asked for. Throws UsageError.
PackGround ground_of(const LoadedSong& song, const MusicOptions& music);

/// Those of a lesson's scenes, each once, in their order. The error is one line.
Result<std::vector<PackGround>, std::string> grounds_of(const practice::Lesson& lesson);

/// Fills a pack: its files one by one, so that only one is in memory. After an error the rest does
/// nothing. Reads phrases and sounds from files.
class Packer {
public:
  Packer(PackFiles& files, const PackWishes& wishes, std::string title, std::string about)
      : files_(files), wishes_(wishes) {
    contents_.title = std::move(title);
    contents_.about = std::move(about);
  }

  /// `stem` is the file's name without its ending.
  void add_sheet(const sheet::Sheet& sheet, const std::string& stem);
  void add_loops(const PackGround& ground);
  /// Every phrase, own or shipped, that fits one of the grounds.
  void add_phrases(const std::vector<PackGround>& grounds);
  /// To come last.
  void add_index();

  /// One line; empty while all is well.
  const std::string& error() const { return error_; }
  /// What this build leaves out, and phrases that could not be read: a line each.
  const std::vector<std::string>& remarks() const { return remarks_; }

private:
  bool add(const std::string& name, const std::string& bytes);
  void add_loop(const PackGround& ground, int percent);
  void add_phrase(const trade::KeptPhrase& kept, const std::string& name, const PackGround& ground,
                  int bar);
  void remark(const std::string& line);

  PackFiles& files_;
  const PackWishes& wishes_;
  PackContents contents_;
  std::string error_;
  std::vector<std::string> remarks_;
};

} // namespace landfall::app
