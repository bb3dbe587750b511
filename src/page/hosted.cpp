#include "skerry/page/hosted.hpp"

#include "html_parts.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/hash.hpp"

namespace skerry::page {

std::vector<HostedFile> hosted_files(const std::string& page) {
  std::vector<HostedFile> out;
  for (const char* name : {"icon.svg", "icon-192.png", "icon-512.png", "skerry.webmanifest"})
    out.push_back({name, std::string(embedded(std::string("assets/hosted_") + name))});
  out.push_back({"index.html", page});
  std::string all, list;
  for (const auto& file : out) {
    all += content_hash(file.content);
    list += "  '" + file.name + "',\n";
  }
  out.push_back({"worker.js", filled(embedded("assets/hosted_worker.js"),
                                     {{"version", content_hash(all)}, {"files", list}})});
  return out;
}

}  // namespace skerry::page
