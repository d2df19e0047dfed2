#include "midi/error_filter.hpp"

#include <string_view>
#include <utility>

namespace landfall::midi {
namespace {

bool is_breaks(std::string_view text) {
  return text.find_first_not_of('\n') == std::string_view::npos;
}

bool is_warning(std::string_view text) {
  return text.starts_with("MidiIn") || text.starts_with("MidiOut") || text.starts_with("RtMidi");
}

} // namespace

/// RtMidi writes the three parts of a warning one by one. Empty lines wait for what follows them.
void ErrorFilter::take(std::string_view text) {
  if (is_breaks(text) && after_warning_) {
    after_warning_ = false;
  } else if (is_breaks(text) && at_start_) {
    held_ += text;
  } else if (is_warning(text) && !held_.empty()) {
    held_.clear();
    after_warning_ = true;
  } else {
    const auto whole = std::exchange(held_, "").append(text);
    out_->sputn(whole.data(), static_cast<std::streamsize>(whole.size()));
    after_warning_ = false;
    at_start_ = whole.ends_with('\n');
  }
}

std::streamsize ErrorFilter::xsputn(const char* text, std::streamsize count) {
  take({text, static_cast<std::size_t>(count)});
  return count;
}

int ErrorFilter::overflow(int character) {
  if (character == traits_type::eof())
    return 0;
  const char c = traits_type::to_char_type(character);
  take({&c, 1});
  return character;
}

int ErrorFilter::sync() {
  return out_->pubsync();
}

} // namespace landfall::midi
