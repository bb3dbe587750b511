// One path at one hour as a line of JSON, as 'skerry batch' writes it.
#include <iostream>

#include "skerry/forms/path_line.hpp"

int main() {
  using namespace skerry;
  circuit::PathQuestion question;
  question.from.at = {-19.70, 63.43};
  question.to.at = {50.1, 8.7};
  question.climate.day = *parse_day("2027-02-15", {});
  question.climate.r12 = ionosphere::R12(60);
  question.mode = *noise::find_mode("cw", {});
  question.frequencies = {{"20m", 14.06}};
  forms::LineOptions options;
  options.hours[18] = true;
  std::cout << forms::path_line(circuit::answer(question), options);
}
