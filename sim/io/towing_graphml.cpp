/// Who towed whom, as a graph.

#include <fmt/format.h>

#include <pugixml.hpp>
#include <sstream>

#include "io/csv.hpp"
#include "io/results.hpp"

namespace leewheel {

std::string towing_graphml(const Scenario& scenario, const RideResult& result) {
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  declaration.append_attribute("encoding") = "UTF-8";
  pugi::xml_node root = document.append_child("graphml");
  root.append_attribute("xmlns") = "http://graphml.graphdrawing.org/xmlns";

  const auto key = [&](const char* id, const char* of, const char* name, const char* type) {
    pugi::xml_node node = root.append_child("key");
    node.append_attribute("id") = id;
    node.append_attribute("for") = of;
    node.append_attribute("attr.name") = name;
    node.append_attribute("attr.type") = type;
  };
  key("name", "node", "name", "string");
  key("saved_J", "edge", "saved_J", "double");

  pugi::xml_node graph = root.append_child("graph");
  graph.append_attribute("id") = "towing";
  graph.append_attribute("edgedefault") = "directed";
  const auto data = [](pugi::xml_node of, const char* id, const std::string& value) {
    pugi::xml_node node = of.append_child("data");
    node.append_attribute("key") = id;
    node.text().set(value.c_str());
  };
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    pugi::xml_node node = graph.append_child("node");
    node.append_attribute("id") = fmt::format("r{}", i).c_str();
    data(node, "name", scenario.riders[i].name);
  }
  for (const TowDebt& debt : result.debts) {
    pugi::xml_node edge = graph.append_child("edge");
    edge.append_attribute("source") = fmt::format("r{}", debt.giver).c_str();
    edge.append_attribute("target") = fmt::format("r{}", debt.receiver).c_str();
    data(edge, "saved_J", csv_cell(debt.saved_J, 1));
  }
  std::ostringstream text;
  document.save(text, "  ");
  return text.str();
}

}  // namespace leewheel
