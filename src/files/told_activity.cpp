#include "skerry/files/told_activity.hpp"

namespace skerry::files {

ToldActivity told_activity(const std::function<bool(const char* key)>& has) {
  using ionosphere::Index;
  ToldActivity out;
  const auto ask = [&](const char* key, std::optional<Index> index) {
    if (!has(key)) return;
    if (out.key == nullptr) {
      out.key = key;
      out.index = index;
    } else if (out.beside == nullptr) {
      out.beside = key;
    }
  };
  ask("r12", Index::r12);
  ask("ssn_v2", Index::ssn_v2);
  ask("f107", Index::f107);
  ask("forecast_file", std::nullopt);
  return out;
}

}  // namespace skerry::files
