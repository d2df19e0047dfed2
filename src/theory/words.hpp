#pragma once

#include <string>
#include <string_view>
#include <vector>

/// The little that every reader of text needs. ASCII only; other bytes pass through.
namespace landfall {

std::string lower_case(std::string_view text);

/// Without white space at either end.
std::string_view trimmed(std::string_view text);

/// The pieces between white space; views into `text`.
std::vector<std::string_view> words(std::string_view text);

/// The pieces with one blank between them.
std::string joined(const std::vector<std::string_view>& words);

} // namespace landfall
