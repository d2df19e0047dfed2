#pragma once

#include "song/diagnostic.hpp"
#include "song/header.hpp"

namespace landfall::song {

/// Keeps what the lines of `name: value` have set up to a place in the text.
class ContextReader {
public:
  explicit ContextReader(Reporter& reporter) : reporter_(reporter) {}

  /// Takes a key, meter, tempo or feel line; others are not for it.
  void set(Header header, std::string_view value, Position at);

  /// What the next bar stands in.
  const Context& current();

  /// Whether a key has been named.
  bool knows_key() const { return knows_key_; }

  /// Gives a tempo that has been set its meaning in the metre of now, as the next bar would.
  void settle_tempo();

private:
  Reporter& reporter_;
  Context context_;
  bool knows_key_ = false;
  bool knows_feel_ = false;
  bool settled_ = false;
  std::optional<double> beats_per_minute_{120.0};
  Position tempo_at_;
};

} // namespace landfall::song
