// Reading a log of contacts, and scoring a forecast against what happened.
#include <fmt/format.h>

#include "skerry/after/adif.hpp"
#include "skerry/after/score.hpp"

int main() {
  using namespace skerry::after;
  const auto adif = parse_adif(
      "<EOH><QSO_DATE:8>20270214<TIME_ON:4>1430<BAND:3>20m<MODE:2>CW<EOR>"
      "<QSO_DATE:8>20270214<TIME_ON:4>1436<BAND:3>15m<MODE:2>CW<EOR>",
      "log.adi");
  if (!adif) return 2;
  fmt::print("{} contacts\n", contacts_of(*adif, "log.adi").contacts.size());
  const Trial trials[] = {{.forecast = 0.8, .happened = true},
                          {.forecast = 0.9, .happened = true},
                          {.forecast = 0.2, .happened = false},
                          {.forecast = 0.3, .happened = false}};
  fmt::print("Brier score {:.3f}\n", brier(trials).score);
}
