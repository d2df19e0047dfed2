#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace landfall {

/// What went wrong in a piece of text, and where.
struct TextError {
  std::string reason; ///< One clear line: what was found, what was expected.
  int column = 1;     ///< From 1, in bytes.
  int line = 1;       ///< From 1.

  bool operator==(const TextError&) const = default;
};

/// A value or the error that prevented it.
template <typename T, typename E = TextError> class Result {
public:
  Result(T value) : content_(std::in_place_index<0>, std::move(value)) {}
  Result(E error) : content_(std::in_place_index<1>, std::move(error)) {}

  explicit operator bool() const { return content_.index() == 0; }

  /// Asks for a value: `*this` must be true.
  const T& value() const& { return assert(*this), std::get<0>(content_); }
  T& value() & { return assert(*this), std::get<0>(content_); }
  T&& value() && { return assert(*this), std::get<0>(std::move(content_)); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }

  /// Asks for the error: `*this` must be false.
  const E& error() const { return assert(!*this), std::get<1>(content_); }

private:
  std::variant<T, E> content_;
};

} // namespace landfall
