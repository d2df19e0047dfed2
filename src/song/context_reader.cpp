#include "song/context_reader.hpp"

#include <cstdlib>

namespace landfall::song {

namespace {

/// The value, or nothing after a report.
template <typename T> std::optional<T> checked(Result<T> result, Position at, Reporter& reporter) {
  if (result)
    return std::move(result).value();
  reporter.error({at.line, at.column + result.error().column - 1}, result.error().reason);
  return {};
}

Result<theory::Key> parse_usable_key(std::string_view text) {
  auto key = theory::parse_key(text);
  if (key && std::abs(theory::signature(*key)) > 7)
    return TextError{quoted(text) + " needs more than seven sharps or flats: expected " +
                         theory::ascii(theory::usual_key(*key)),
                     1};
  return key;
}

} // namespace

void ContextReader::set(Header header, std::string_view value, Position at) {
  if (header == Header::key) {
    if (const auto key = checked(parse_usable_key(value), at, reporter_)) {
      context_.key = *key;
      knows_key_ = true;
    }
  } else if (header == Header::meter) {
    if (const auto meter = checked(parse_meter(value), at, reporter_))
      context_.meter = *meter;
  } else if (header == Header::tempo) {
    beats_per_minute_ = checked(parse_beats_per_minute(value), at, reporter_);
    tempo_at_ = at;
  } else if (header == Header::feel) {
    if (auto feel = checked(parse_feel_name(value), at, reporter_)) {
      context_.feel = std::move(*feel);
      knows_feel_ = true;
    }
  }
}

const Context& ContextReader::current() {
  settle_tempo();
  if (!settled_ && !knows_feel_)
    context_.feel = usual_feel(context_.meter);
  settled_ = true;
  return context_;
}

void ContextReader::settle_tempo() {
  if (!beats_per_minute_)
    return;
  context_.tempo = tempo_from_beats(*beats_per_minute_, context_.meter);
  const double given = *beats_per_minute_;
  beats_per_minute_.reset();
  if (std::abs(beats_per_minute(context_.tempo, context_.meter) - given) > 0.01 * given)
    reporter_.error(tempo_at_, "the tempo is out of range: expected " +
                                   std::to_string(static_cast<int>(min_bpm)) + " to " +
                                   std::to_string(static_cast<int>(max_bpm)) +
                                   " quarter notes a minute");
}

} // namespace landfall::song
