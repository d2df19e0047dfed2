#include "app/history_file.hpp"

#include "app/data.hpp"

#include <algorithm>
#include <cstdio>
#include <ctime>

namespace landfall::app {

Result<std::filesystem::path, std::string> history_file(const std::string& profile) {
  constexpr std::size_t longest = 40;
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == ' ' ||
           c == '-' || c == '_' || static_cast<unsigned char>(c) >= 0x80;
  };
  if (profile.size() > longest || !std::all_of(profile.begin(), profile.end(), plain))
    return std::string("--profile: a name has up to 40 letters, digits, blanks, - and _");
  return user_data_folder() / "history" / ((profile.empty() ? "player" : profile) + ".db");
}

practice::Instant instant_now() {
  return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

std::chrono::minutes minutes_east() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  if (localtime_r(&now, &local) == nullptr)
    return {};
  return std::chrono::minutes{local.tm_gmtoff / 60};
}

std::chrono::sys_days today() {
  return std::chrono::floor<std::chrono::days>(instant_now() + minutes_east());
}

std::string iso_text(practice::Instant when) {
  const auto day = std::chrono::floor<std::chrono::days>(when);
  const std::chrono::year_month_day date(day);
  const std::chrono::hh_mm_ss time(when - day);
  char text[40];
  std::snprintf(text, sizeof text, "%04d-%02u-%02uT%02d:%02d:%02dZ", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                static_cast<int>(time.hours().count()), static_cast<int>(time.minutes().count()),
                static_cast<int>(time.seconds().count()));
  return text;
}

} // namespace landfall::app
