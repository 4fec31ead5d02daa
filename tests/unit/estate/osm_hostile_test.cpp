// Damaged, empty and foreign files: a message, never a crash, never half a map.
#include <bzlib.h>
#include <doctest/doctest.h>
#include <zlib.h>

#include <random>
#include <string>
#include <vector>

#include "estate/osm_bytes.h"
#include "estate/osm_map.h"
#include "estate/osm_values.h"
#include "files/disk.h"
#include "unit/estate/osm_text.h"

using namespace withy;
using namespace osm_text;

namespace {

std::string drawn() {
  std::string objects = grid();
  for (int i = 0; i < 300; ++i)
    objects += "<node id='" + std::to_string(100 + i) + "' lat='50.1" + std::to_string(100 + i) +
               "' lon='11.2" + std::to_string(37 * i % 1000) + "'>" +
               tag("addr:housenumber", std::to_string(i)) + "</node>\n";
  for (int i = 1; i < 60; ++i)
    objects +=
        way(i, std::to_string(100 + 3 * i) + " 1 5 " + std::to_string(101 + i), tag("highway", "service"));
  return osm(objects + way(60, "1 2 5 4 1", "") + relation(1, "60", tag("building", "yes")));
}

std::string gzipped(const std::string& text) {
  z_stream stream = {};
  REQUIRE(deflateInit2(&stream, 9, Z_DEFLATED, 15 + 16, 9, Z_DEFAULT_STRATEGY) == Z_OK);
  std::string out(deflateBound(&stream, text.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  stream.avail_in = static_cast<uInt>(text.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  REQUIRE(deflate(&stream, Z_FINISH) == Z_STREAM_END);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  return out;
}

std::string bzipped(std::string text) {
  std::string out(text.size() + text.size() / 50 + 600, '\0');
  auto size = static_cast<unsigned>(out.size());
  REQUIRE(BZ2_bzBuffToBuffCompress(out.data(), &size, text.data(), static_cast<unsigned>(text.size()), 9, 0,
                                   0) == BZ_OK);
  out.resize(size);
  return out;
}

struct Sample {
  const char* name;
  std::string bytes;
};
std::vector<Sample> samples() {
  return {{"a.osm.pbf", bytes_of(WITHY_SOURCE "/tests/maps/neubrandenburg-cut-s.osm.pbf")},
          {"a.osm", drawn()},
          {"a.osm.gz", gzipped(drawn())},
          {"a.osm.bz2", bzipped(drawn())}};
}

// The objects a whole file has at most: a damaged one must not invent more than it could hold.
void check_harmless(const std::filesystem::path& path) {
  Map map;
  const auto counts = read_osm(path, map);
  if (counts) {
    CHECK(map.sources.size() == 1);
  } else {
    CHECK(map.sources.empty());
    CHECK(map.streets.empty());
    CHECK(map.remarks.empty());
    REQUIRE(counts.diagnostics.size() == 1);
    CHECK(counts.diagnostics[0].place.file == path.string());
    CHECK(counts.diagnostics[0].message.size() < 200);
  }
}

}  // namespace

TEST_CASE("all four formats are read whole") {
  const Folder folder;
  for (const Sample& sample : samples()) {
    CAPTURE(sample.name);
    Map map;
    const auto counts = read_osm(folder.write(sample.name, sample.bytes), map);
    REQUIRE(counts);
    CHECK(map.streets.size() > 40);
    CHECK(map.buildings.size() > 0);
    CHECK(map.addresses.size() > 80);
  }
}

TEST_CASE("a file cut short is refused") {
  const Folder folder;
  for (const Sample& sample : samples()) {
    const size_t size = sample.bytes.size(), steps = 97;
    for (size_t i = 1; i < steps; ++i) {
      const size_t length = size * i / steps;
      CAPTURE(sample.name);
      CAPTURE(length);
      CHECK(fault(folder.write(sample.name, sample.bytes.substr(0, length))) != "");
    }
    for (size_t off = sample.name == std::string("a.osm") ? 2 : 1; off < 40;
         ++off) {  // it ends with a newline
      CAPTURE(sample.name);
      CAPTURE(off);
      CHECK(fault(folder.write(sample.name, sample.bytes.substr(0, size - off))) != "");
    }
  }
}

TEST_CASE("flipped bits give a message or a map, nothing else") {
  const Folder folder;
  std::mt19937 random(20160210);  // seeded: the same flips every time
  for (const Sample& sample : samples())
    for (int i = 0; i < 250; ++i) {
      std::string bytes = sample.bytes;
      const int flips = 1 + i % 4;
      for (int k = 0; k < flips; ++k)
        bytes[random() % (i % 2 == 0 ? bytes.size() : 400)] ^= static_cast<char>(1 << random() % 8);
      CAPTURE(sample.name);
      CAPTURE(i);
      check_harmless(folder.write(sample.name, bytes));
    }
}

TEST_CASE("empty, foreign and missing files") {
  const Folder folder;
  const std::vector<Sample> whole = samples();
  for (const Sample& sample : whole) {
    CAPTURE(sample.name);
    CHECK(fault(folder.write(sample.name, "")) == "file is empty");
    CHECK(fault(folder.write(sample.name, std::string(5000, '\0'))) != "");
    CHECK(fault(folder.write(sample.name, "premises,street\n1,Uferweg\n")) != "");
    for (const Sample& other : whole)
      if (sample.name != other.name) CHECK(fault(folder.write(sample.name, other.bytes)) != "");
  }
  CHECK(fault(folder.write("a.osm", osm(""))) == "holds no map objects");
  CHECK(fault(folder.write("a.osm.gz", gzipped(osm("")))) == "holds no map objects");
  CHECK(fault(folder.write("a.osm", osm(grid()))) == "holds 9 nodes and no ways: it may be cut short");
  CHECK(fault(folder.write("a.osm", osm(way(1, "1 2", "")))) == "holds no nodes: nothing in it has a place");
  CHECK(fault(folder.write("a.zip", "x")) == "ending is none of .osm.pbf, .osm, .osm.gz, .osm.bz2");
  Map map;
  CHECK_THROWS_AS(read_osm(folder.path / "none.osm", map), OutsideFault);
  CHECK_THROWS_AS(read_osm(folder.path, map), OutsideFault);
  CHECK_THROWS_AS(read_osm("http://example.org/a.osm", map), OutsideFault);
}

TEST_CASE("a fault in XML names its line; entities are refused") {
  const Folder folder;
  Map map;
  const auto broken = read_osm(folder.write("a.osm", osm(grid() + "<way id='1'><nd ref='1'></way>")), map);
  REQUIRE_FALSE(broken);
  CHECK(broken.diagnostics[0].place.line == 12);
  const std::string bomb =
      "<?xml version='1.0'?><!DOCTYPE osm [<!ENTITY a 'aaaa'>]>" + osm(grid()).substr(39);
  CHECK(fault(folder.write("b.osm", bomb)) != "");
}

TEST_CASE("a place that is no number is no place") {
  for (const char* bad : {"NaN", "-nan", "1e308", "-1e308", "inf", "", "elf", " 50", "0x32", "50,1", "1e5",
                          "200.0", "99999999999999999999999", "--5", "5.5.5", "-"}) {
    CAPTURE(std::string(bad));
    const std::string node = "<node id='77' lon=\"11\" lat = '" + std::string(bad) + "'/>\n";
    const Read r = read("<bounds minlat='" + std::string(bad) + "' minlon='1' maxlat='2' maxlon='2'/>" +
                        grid() + node + way(1, "1 77 2", tag("highway", "path")));
    CHECK(only(r.map, "node without a place").id.number == 77);
    CHECK(r.map.streets.at(0).line.size() == 2);
  }
  for (const char* good :
       {"50.00000000000000000000000001", "5e1", "500000e-4", "+0", "50", "50.", "0050.0"}) {
    CAPTURE(std::string(good));
    const std::string node = "<node id='77' lon='11.5' lat='" + std::string(good) + "'/>\n";
    const Read r = read(grid() + node + way(1, "1 77", tag("highway", "path")));
    if (std::string(good) == "+0") continue;
    CHECK(r.map.streets.at(0).line.at(1) == MapPlace{11.5, 50});
  }
}

TEST_CASE("the mender passes text on byte for byte, however it is cut") {
  const std::string text =
      "\xEF\xBB\xBF<?xml version='1.0'?><!-- don't <node lat='NaN'> --><osm a='>'><![CDATA[<node "
      "lat='x'>]]>\n<node id='1' lat='50.1' lon=\"-11.25\"><tag k='lat=' v='\"NaN'/></node></osm> ";
  for (size_t step = 1; step < 40; ++step) {
    XmlMender mender;
    std::string out;
    for (size_t i = 0; i < text.size(); i += step)
      out += mender.mended(std::string_view(text).substr(i, step));
    CHECK(out + mender.rest() == text);
  }
  XmlMender mender;
  CHECK(mender.mended("<node lat='NaN' lon='7' x='lat'/>") == "<node lat='200' lon='7' x='lat'/>");
}

TEST_CASE("a few packed bytes cannot fill the memory") {
  const Folder folder;
  const std::string head = osm(grid()).substr(0, osm(grid()).size() - 7);
  const std::string long_value =
      head + "<way id='1'><tag k='name' v='" + std::string(80 << 20, 'a') + "'/></way></osm>";
  const std::string rest = ": a tag of more than 1 MiB";
  CHECK(fault(folder.write("a.osm.gz", gzipped(long_value))).ends_with(rest));
  CHECK(fault(folder.write("a.osm.bz2", bzipped(long_value))).ends_with(rest));
  std::string many = head + "<way id='1'>";
  while (many.size() < (80 << 20)) many += "<nd ref='1'/><nd ref='2'/><nd ref='1'/><nd ref='2'/>";
  CHECK(fault(folder.write("b.osm.gz", gzipped(many))).ends_with(": an object of more than 64 MiB"));
  std::string nodes = head;
  while (nodes.size() < (30 << 20)) nodes += "<node id='1'/>";
  CHECK(fault(folder.write("c.osm.gz", gzipped(nodes + "</osm>")))
            .ends_with(": more nodes than a file of its size can hold"));
}

TEST_CASE("packed files of several members are read to the end") {
  const Folder folder;
  const std::string text = drawn(), a = text.substr(0, 9000), b = text.substr(9000);
  for (const bool gzip : {true, false}) {
    Map map;
    const std::string name = gzip ? "a.osm.gz" : "a.osm.bz2";
    const std::string packed = gzip ? gzipped(a) + gzipped(b) : bzipped(a) + bzipped(b);
    REQUIRE(read_osm(folder.write(name, packed), map));
    CHECK(map.buildings.size() == 1);
    CHECK(fault(folder.write(name, packed.substr(0, packed.size() - 3))) != "");
  }
}

TEST_CASE("text that is not UTF-8 is mended") {
  const Map map = read(grid() + way(1, "1 2", tag("highway", "path") + tag("name", "Weg \xC3\xBC"))).map;
  CHECK(map.streets[0].name == "Weg \xC3\xBC");
  bool mended = false;
  CHECK(utf8_text("a\xFFz\xC3", mended) == "a?z?");
  CHECK(mended);
}
