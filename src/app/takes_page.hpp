#pragma once

#include "app/background.hpp"
#include "app/pages.hpp"
#include "app/take_file.hpp"
#include "app/text_field.hpp"

#include <filesystem>
#include <map>

namespace landfall::app {

/// What a take holds, in a few words: its length and its landings; or why it can't be read.
struct TakeWords {
  std::string detail;                ///< `1:12 · 14 of 17`
  std::vector<std::string> choruses; ///< A line each.
};
TakeWords words_of(const Take& take, const std::shared_ptr<const band::FeelBook>& feels);

/// Another name for a take, its date kept before it. Nothing is overwritten. The reason for a
/// failure, or an empty text.
std::string rename_take(const std::filesystem::path& take, const std::string& name);

/// The kept takes, the latest first: to be opened, named, and put away. What a take holds is read
/// by the worker while the page is shown. Window's thread.
class TakesPage final : public Page {
public:
  struct Calls {
    std::function<void(const std::filesystem::path& take)> open;
    std::function<void(const std::string& words)> say;
    std::function<void(Background::Job job)> post; ///< To a worker, in order.
  };

  TakesPage(std::filesystem::path folder, std::shared_ptr<const band::FeelBook> feels, Calls calls);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override;
  bool moving() const override { return reading_; }

private:
  /// Written by the worker, which may outlive the page.
  struct Words {
    std::mutex mutex;
    std::map<std::string, TakeWords> by_name;
  };

  void rebuild(const std::string& selected);
  void read(const std::string& name);
  void fill_in();
  bool press_in_name(const render::KeyPress& press);
  void keep_name();
  void put_away();
  void bring_back();
  std::filesystem::path path_of(const std::string& name) const { return folder_ / (name + ".mid"); }

  std::filesystem::path folder_;
  std::shared_ptr<const band::FeelBook> feels_;
  Calls calls_;
  std::shared_ptr<Words> words_ = std::make_shared<Words>();
  ChoiceList list_;
  std::optional<TextField> name_;     ///< While a take is being named.
  std::vector<std::string> put_away_; ///< The last one at the end.
  bool reading_ = false;
};

} // namespace landfall::app
