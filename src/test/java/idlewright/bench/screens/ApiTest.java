package idlewright.bench.screens;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;

import idlewright.bench.rules.Catalogue;
import idlewright.ground.WithDatabase;
import idlewright.people.ApiKeys;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.reference.OpenData;
import idlewright.reference.codes.CodeBook;
import java.io.IOException;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("The API")
class ApiTest {

    private static String key = "";

    @Autowired
    MockMvcTester mvc;

    @Autowired
    ApiKeys keys;

    @Autowired
    People people;

    @Autowired
    Catalogue catalogue;

    @Autowired
    RequestMappingHandlerMapping mappings;

    @BeforeEach
    void makeAKey() {
        if (key.isEmpty()) {
            String name = "api" + ProcessHandle.current().pid();
            var owner = people.hire(name, name, "three loose hose clamps", null, Set.of(Role.OWNER));
            key = people.as(owner, () -> keys.make(name));
        }
    }

    /** What came back. */
    private record Answer(int status, String type, JsonNode json) {}

    private Answer get(String path) {
        return answer(mvc.get()
                .uri(java.net.URI.create(path))
                .header("Authorization", "Bearer " + key)
                .exchange()
                .getResponse());
    }

    private Answer post(String path, String body) {
        return answer(mvc.post()
                .uri(path)
                .header("Authorization", "Bearer " + key)
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .exchange()
                .getResponse());
    }

    private static Answer answer(MockHttpServletResponse response) {
        String body = new String(response.getContentAsByteArray(), StandardCharsets.UTF_8);
        return new Answer(
                response.getStatus(),
                String.valueOf(response.getContentType()),
                JsonMapper.builder().build().readTree(body));
    }

    private static void refused(Answer answer, int status, String... words) {
        assertThat(answer.status).isEqualTo(status);
        assertThat(answer.type).startsWith("application/problem+json");
        assertThat(answer.json.get("status").intValue()).isEqualTo(status);
        assertThat(answer.json.get("detail").stringValue()).isNotBlank();
        for (String word : words) {
            assertThat(answer.json.get("detail").stringValue()).contains(word);
        }
        assertThat(answer.json.toString()).doesNotContain("idlewright.", "java.", "Exception", "jackson");
    }

    private static double number(JsonNode json, String field) {
        assertThat(json.get(field)).as(field).isNotNull();
        assertThat(json.get(field).isNumber()).as(field + " is a JSON number").isTrue();
        return json.get(field).doubleValue();
    }

    private static List<String> texts(JsonNode list) {
        return list.valueStream().map(JsonNode::asString).toList();
    }

    @Nested
    class Vins {

        @ParameterizedTest(name = "{0}")
        @CsvSource({
            // 49 CFR 565.15 sample calculation (Table V); position 7 is a digit and position 10 is 5
            "1G4AH59H45G118341, 4, 4, true, 2005",
            // public reference VIN of many test suites; weight class unknown, so both years stand
            "1M8GDM9AXKP042788, X, X, true, 1989",
            // public test suites
            "11111111111111111, 1, 1, true, 2001",
            "1M8GDM9A0KP042788, X, 0, false, 1989"
        })
        void tellsCheckDigitAndYears(String vin, String expected, String found, boolean ok, int year) {
            var json = get("/api/vin/" + vin).json;
            assertThat(json.get("vin").stringValue()).isEqualTo(vin);
            assertThat(json.get("wellFormed").booleanValue()).isTrue();
            var digit = json.get("checkDigit");
            assertThat(digit.get("applies").booleanValue()).isTrue();
            assertThat(digit.get("expected").stringValue()).isEqualTo(expected);
            assertThat(digit.get("found").stringValue()).isEqualTo(found);
            assertThat(digit.get("ok").booleanValue()).isEqualTo(ok);
            assertThat(json.get("region").stringValue()).isEqualTo("North America");
            assertThat(texts(json.get("modelYears"))).contains(String.valueOf(year));
            assertThat(json.get("problems").isEmpty()).isEqualTo(ok);
        }

        @Test
        void answersANumberThatIsNoneWithItsProblems() {
            var answer = get("/api/vin/1M8GDM9AXKPO42788");
            assertThat(answer.status).isEqualTo(200);
            assertThat(answer.json.get("wellFormed").booleanValue()).isFalse();
            assertThat(answer.json.get("checkDigit").isNull()).isTrue();
            assertThat(texts(answer.json.get("problems")).get(0)).contains("Position 12 is O");
        }
    }

    @Nested
    class Answers {

        @Test
        @DisplayName(
                "decodes each response for itself: obd-java-api and python-OBD tests, constructed for the bad ones")
        void decodesEachForItself() {
            var all = post("/api/obd/decode", """
                            {"responses": ["41 0C 28 3C", "NO DATA", "41 0C 28", "41 01 83 07 FF 00", "nonsense", "41 05 53"]}""").json;
            assertThat(all.size()).isEqualTo(6);
            assertThat(all.get(0).get("response").stringValue()).isEqualTo("41 0C 28 3C");
            assertThat(all.get(0).get("pid").stringValue()).isEqualTo("0C");
            assertThat(all.get(0).get("name").stringValue()).isEqualTo("engine speed");
            assertThat(number(all.get(0).get("values").get(0), "value")).isEqualTo(2575);
            assertThat(all.get(0).get("values").get(0).get("unit").stringValue())
                    .isEqualTo("rpm");
            assertThat(all.get(0).get("problem").isNull()).isTrue();
            for (int bad : new int[] {1, 2, 4}) {
                assertThat(all.get(bad).get("problem").stringValue()).isNotBlank();
                assertThat(all.get(bad).get("values").isEmpty()).isTrue();
            }
            assertThat(all.get(3).get("values").toString())
                    .contains(
                            "\"warning lamp\",\"value\":\"on\"",
                            "\"stored codes\",\"value\":3",
                            "\"catalyst\",\"value\":\"complete\"");
            assertThat(number(all.get(5).get("values").get(0), "value")).isEqualTo(43);
        }

        @TestFactory
        @DisplayName("decodes the vectors of pid-vectors.csv, each with its source")
        List<DynamicTest> decodesTheVectors() {
            return OpenData.eachRow("pid-vectors.csv", row -> {
                String response = "41 " + row.get(0) + " " + row.get(1);
                var json = post("/api/obd/decode", "{\"responses\": [\"%s\"]}".formatted(response))
                        .json
                        .get(0);
                double expected;
                try {
                    expected = Double.parseDouble(row.get(2));
                } catch (NumberFormatException words) {
                    return;
                }
                assertThat(json.get("values")
                                .valueStream()
                                .filter(value -> value.get("value").isNumber())
                                .mapToDouble(value -> value.get("value").doubleValue()))
                        .as(row.get(4) + ": " + json)
                        .anySatisfy(value -> assertThat(value).isCloseTo(expected, offset(1e-3)));
            });
        }
    }

    @Nested
    class Codes {

        @Test
        @DisplayName("decodes 01 04 to P0104 (python-OBD tests) and 41 23 to C0123 (bits after SAE J2012)")
        void decodesBytes() {
            var codes = post("/api/codes/decode", "{\"bytes\":\"01 04 41 23\"}")
                    .json
                    .get("codes");
            assertThat(codes.get(0).get("code").stringValue()).isEqualTo("P0104");
            assertThat(codes.get(0).get("meaning").stringValue()).isNotBlank();
            assertThat(codes.get(0).get("generic").booleanValue()).isTrue();
            assertThat(codes.get(1).get("code").stringValue()).isEqualTo("C0123");
        }

        @TestFactory
        @DisplayName("decodes the vectors of dtc-vectors.csv, each with its source")
        List<DynamicTest> decodesTheVectors() {
            return OpenData.eachRow(
                    "dtc-vectors.csv",
                    row -> assertThat(post("/api/codes/decode", "{\"bytes\":\"%s\"}".formatted(row.get(0)))
                                    .json
                                    .get("codes")
                                    .valueStream()
                                    .map(code -> code.get("code").stringValue())
                                    .toList())
                            .as(row.get(2))
                            .isEqualTo(row.get(0).equals("0000") ? List.of() : List.of(row.get(1))));
        }

        @Test
        void explainsACodeWithItsCauses() {
            var json = get("/api/codes/p0171").json;
            assertThat(json.get("code").stringValue()).isEqualTo("P0171");
            assertThat(json.get("system").stringValue()).isEqualTo("powertrain");
            assertThat(json.get("generic").booleanValue()).isTrue();
            assertThat(json.get("meaning").stringValue()).containsIgnoringCase("lean");
            assertThat(json.get("causes").size()).isGreaterThan(1);
        }

        @Test
        void saysOfACodeOutsideTheBookWhoseItIs() {
            var json = get("/api/codes/P1234").json;
            assertThat(json.get("generic").booleanValue()).isFalse();
            assertThat(json.get("meaning").stringValue()).contains("maker's own");
            assertThat(json.get("causes").isEmpty()).isTrue();
        }

        @Test
        void knowsNoCodeThatIsNone() {
            refused(get("/api/codes/X9999"), 404, "no trouble code", "P0101");
        }

        @Test
        void refusesWhatAreNoBytes() {
            refused(post("/api/codes/decode", "{\"bytes\":\"01 G4\"}"), 422, "Byte 2");
        }

        @Test
        void namesEveryCauseOfTheBook() {
            assertThat(CodeBook.all().stream()
                            .flatMap(entry -> entry.causes().stream())
                            .distinct())
                    .allMatch(cause -> catalogue.cause(cause).isPresent());
        }
    }

    @Nested
    class Air {

        @ParameterizedTest(name = "{0} L, {1} rpm, {2} g/s: {3} %")
        @CsvSource({
            // computed from the definition of SAE J1979: 100 x flow x 120 / (rpm x 1.184 x litres)
            "1.997, 792.75, 3.56, 22.79",
            "2.5, 2500, 15, 24.32",
            "3.0, 700, 4, 19.31",
            "2.0, 3000, 20, 33.78"
        })
        void calculatesAbsoluteLoad(double litres, double rpm, double flow, double load) {
            var json = post(
                            "/api/air",
                            "{\"displacementL\":%s,\"rpm\":%s,\"massFlowGps\":%s,\"intakeAirC\":25,\"pressureKpa\":101.325}"
                                    .formatted(litres, rpm, flow))
                    .json;
            assertThat(number(json, "absoluteLoadPct")).isCloseTo(load, offset(0.006));
            // 101325/(287.055 x 298.15) = 1.18390 g/L, computed
            assertThat(number(json, "airDensityGpl")).isCloseTo(1.1839, offset(0.0001));
            assertThat(number(json, "fillingPct")).isCloseTo(load, offset(0.02));
        }

        @Test
        @DisplayName("gives 20.65 g/s for 3.0 L at 700 rpm and 1.18 g/L, a trade magazine's example of October 2015")
        void calculatesTheIdealFlow() {
            var json = post("/api/air", "{\"displacementL\":3.0,\"rpm\":700,\"intakeAirC\":26,\"pressureKpa\":101.325}")
                    .json;
            assertThat(number(json, "idealFlowGps")).isCloseTo(20.65, offset(0.02));
            assertThat(json.get("absoluteLoadPct").isNull()).isTrue();
            assertThat(json.get("fillingPct").isNull()).isTrue();
        }

        @Test
        void refusesAllThatIsWrongAtOnce() {
            var answer =
                    post("/api/air", "{\"displacementL\":\"2.0\",\"intakeAirC\":1e999,\"pressureKpa\":100,\"rmp\":1}");
            refused(answer, 422);
            var problems = answer.json.get("problems");
            assertThat(problems.get("displacementL").stringValue())
                    .isEqualTo("displacementL must be a number, but was a text.");
            assertThat(problems.get("rpm").stringValue()).isEqualTo("rpm is needed: a number.");
            assertThat(problems.get("intakeAirC").stringValue()).contains("beyond all numbers");
            assertThat(problems.get("rmp").stringValue()).contains("no field of this call", "displacementL, rpm");
        }

        @Test
        void namesTheRangeOfAValueThatCannotBe() {
            refused(
                    post("/api/air", "{\"displacementL\":2,\"rpm\":-5,\"intakeAirC\":25,\"pressureKpa\":100}"),
                    422,
                    "Engine speed must lie between 1 and 20,000 rpm");
        }

        @Test
        void namesNoFieldWhereTheWholeIsWrong() {
            assertThat(post("/api/air", "{\"displacementL\":2,\"rpm\":-5,\"intakeAirC\":25,\"pressureKpa\":100}")
                            .json
                            .has("problems"))
                    .isFalse();
        }
    }

    @Nested
    @DisplayName("A sweep, simulated (0.5 to 4.5 V, 200 points, noise of 5 mV)")
    class Sweeps {

        private String body(java.util.function.DoubleUnaryOperator signal, boolean shuffled) {
            var random = new java.util.Random(7);
            var order = IntStream.range(0, 200).boxed().collect(Collectors.toList());
            if (shuffled) {
                java.util.Collections.shuffle(order, random);
            }
            var x = order.stream().map(i -> i / 2.0).toList();
            var y = x.stream()
                    .map(at -> signal.applyAsDouble(at) + 0.005 * random.nextGaussian())
                    .toList();
            return "{\"x\":%s,\"y\":%s,\"xUnit\":\"%%\",\"yUnit\":\"V\"}".formatted(x, y);
        }

        @Test
        void isSmooth() {
            var json = post("/api/sweeps", body(x -> 0.5 + 0.04 * x, false)).json;
            assertThat(json.get("verdict").stringValue()).isEqualTo("smooth");
            assertThat(json.get("features").isEmpty()).isTrue();
            assertThat(json.get("reason").stringValue()).contains("200 points");
        }

        @Test
        void isFaultyWhereItRestsWhateverTheOrderOfThePoints() {
            var json = post("/api/sweeps", body(x -> 0.5 + 0.04 * (x < 40 ? x : x < 55 ? 40 : x - 15), true)).json;
            assertThat(json.get("verdict").stringValue()).isEqualTo("faulty");
            var flat = json.get("features").get(0);
            assertThat(flat.get("kind").stringValue()).isEqualTo("flat spot");
            assertThat(number(flat, "from")).isCloseTo(40, offset(3.0));
            assertThat(number(flat, "to")).isCloseTo(55, offset(3.0));
        }

        @Test
        void isNotJudgedFromFewPoints() {
            var json = post("/api/sweeps", "{\"x\":[1,2,3],\"y\":[1,2,3],\"xUnit\":\"s\",\"yUnit\":\"V\"}").json;
            assertThat(json.get("verdict").stringValue()).isEqualTo("not judged");
            assertThat(json.get("reason").stringValue()).contains("Only 3 points");
        }

        @Test
        void isRefusedWithDifferentLengths() {
            refused(post("/api/sweeps", "{\"x\":[1,2],\"y\":[1]}"), 422, "there were 2 and 1");
        }
    }

    @Nested
    class Logs {

        private Answer log(byte[] bytes, String... fields) {
            var request = mvc.post()
                    .uri("/api/logs")
                    .multipart()
                    .file(new MockMultipartFile("file", "drive.csv", "text/csv", bytes))
                    .header("Authorization", "Bearer " + key);
            for (int i = 0; i < fields.length; i += 2) {
                request = request.param(fields[i], fields[i + 1]);
            }
            return answer(request.exchange().getResponse());
        }

        @Test
        @DisplayName("tells 42.417 km, 3.598 L, 8.48 L/100 km of enviroCar track 1 (ODbL, enviroCar contributors)")
        void tellsDistanceAndFuelOfAPetrolDrive() throws IOException {
            var json = log(
                            Files.readAllBytes(OpenData.file("envirocar-track-1.csv")),
                            "displacementL",
                            "1.798",
                            "fuel",
                            "petrol")
                    .json;
            assertThat(number(json, "rows")).isEqualTo(368);
            assertThat(json.get("plausible").booleanValue()).isTrue();
            assertThat(number(json, "distanceKm")).isCloseTo(42.417, offset(0.2));
            assertThat(number(json, "fuelL")).isCloseTo(3.598, offset(0.03));
            assertThat(number(json, "litresPer100Km")).isCloseTo(8.48, offset(0.1));
            var rpm = json.get("columns")
                    .valueStream()
                    .filter(column -> column.get("header").stringValue().equals("rpm"))
                    .findFirst()
                    .orElseThrow();
            assertThat(rpm.get("quantity").stringValue()).isEqualTo("engine speed");
            assertThat(rpm.get("unit").stringValue()).isEqualTo("rpm");
            assertThat(number(rpm, "confidence")).isBetween(0.5, 1.0);
        }

        @Test
        @DisplayName("calls an emulator's trace implausible and derives nothing (obd2-data, MIT)")
        void calledImplausible() throws IOException {
            var json =
                    log(Files.readAllBytes(OpenData.file("not-a-car-emulator-trace.csv")), "displacementL", "2.0").json;
            assertThat(json.get("plausible").booleanValue()).isFalse();
            assertThat(json.get("problems").size()).isPositive();
            assertThat(json.get("states").isEmpty()).isTrue();
            assertThat(json.has("distanceKm")).isFalse();
            assertThat(json.has("litresPer100Km")).isFalse();
        }

        @Test
        void saysWhatIsWrongWithAFileThatIsNoLog() {
            var json = log(new byte[0], "displacementL", "2.0").json;
            assertThat(json.get("plausible").booleanValue()).isFalse();
            assertThat(json.get("problems").toString()).contains("empty");
        }

        @Test
        void refusesWrongFieldsAndAMissingFile() {
            refused(
                    log("a,b\n1,2\n".getBytes(StandardCharsets.UTF_8), "displacementL", "two", "fuel", "coal"),
                    422,
                    "fuel is petrol");
            var none = answer(mvc.post()
                    .uri("/api/logs")
                    .multipart()
                    .param("displacementL", "2")
                    .header("Authorization", "Bearer " + key)
                    .exchange()
                    .getResponse());
            refused(none, 422, "part “file”");
        }
    }

    @Nested
    class Statistics {

        @ParameterizedTest(name = "{0} of {1}")
        @CsvSource({
            // Newcombe 1998, Statistics in Medicine 17:857
            "81, 263, 0.2553, 0.3662, 0.2527, 0.3676",
            "15, 148, 0.0624, 0.1605, 0.0578, 0.1617",
            "0, 20, 0.0000, 0.1611, 0, 0.1684",
            "1, 29, 0.0061, 0.1718, 0.0009, 0.1776"
        })
        void givesTheIntervalsOfAShare(
                int events, int n, double wilsonLow, double wilsonHigh, double exactLow, double exactHigh) {
            var json = post("/api/statistics/proportion", "{\"events\":%d,\"n\":%d}".formatted(events, n)).json;
            assertThat(number(json, "estimate")).isCloseTo((double) events / n, offset(1e-12));
            assertThat(number(json, "wilsonLow")).isCloseTo(wilsonLow, offset(6e-5));
            assertThat(number(json, "wilsonHigh")).isCloseTo(wilsonHigh, offset(6e-5));
            assertThat(number(json, "exactLow")).isCloseTo(exactLow, offset(6e-5));
            assertThat(number(json, "exactHigh")).isCloseTo(exactHigh, offset(6e-5));
        }

        @Test
        @DisplayName("gives the textbook curve of the 6-MP arm of the leukaemia study")
        void givesTheCurveOfTheTextbook() {
            var json = post("/api/statistics/survival", """
                            {"times":[6,6,6,6,7,9,10,10,11,13,16,17,19,20,22,23,25,32,32,34,35],
                             "observed":[true,true,true,false,true,false,true,false,false,true,true,false,false,false,true,true,false,false,false,false,false]}""").json;
            assertThat(number(json, "median")).isEqualTo(23);
            double[][] expected = {
                {6, 21, .8571, .0764},
                {7, 17, .8067, .0869},
                {10, 15, .7529, .0963},
                {13, 12, .6902, .1068},
                {16, 11, .6275, .1141},
                {22, 7, .5378, .1282},
                {23, 6, .4482, .1346}
            };
            assertThat(json.get("steps").size()).isEqualTo(expected.length);
            for (int i = 0; i < expected.length; i++) {
                var step = json.get("steps").get(i);
                assertThat(number(step, "time")).isEqualTo(expected[i][0]);
                assertThat(number(step, "atRisk")).isEqualTo(expected[i][1]);
                assertThat(number(step, "survival")).isCloseTo(expected[i][2], offset(6e-5));
                assertThat(number(step, "standardError")).isCloseTo(expected[i][3], offset(6e-5));
            }
        }

        @Test
        void hasNoMedianWhileMoreThanHalfLast() {
            var json = post("/api/statistics/survival", "{\"times\":[1,2,3],\"observed\":[1,0,0]}").json;
            assertThat(json.get("median").isNull()).isTrue();
        }

        @Test
        void refusesMoreEventsThanCars() {
            refused(post("/api/statistics/proportion", "{\"events\":3,\"n\":2}"), 422, "between 0 and n, 2");
            var none = post("/api/statistics/proportion", "{\"events\":0,\"n\":0}");
            refused(none, 422, "n must be 1 or more, but was 0.");
            assertThat(none.json.get("problems").has("n")).isTrue();
            refused(post("/api/statistics/proportion", "{\"events\":0.5,\"n\":2}"), 422, "whole number");
            refused(post("/api/statistics/survival", "{\"times\":[1],\"observed\":[\"yes\"]}"), 422, "observed[0]");
        }
    }

    @Nested
    class Edge {

        @Test
        void refusesWhatIsNoJson() {
            refused(post("/api/air", "{\"rpm\": 1,}"), 400, "not JSON", "line 1");
            refused(post("/api/air", ""), 400);
            refused(post("/api/air", "[1]"), 400, "JSON object");
            refused(post("/api/air", "{\"rpm\":1,\"rpm\":2}"), 400, "not JSON");
            refused(post("/api/air", "[".repeat(100_000)), 400, "not JSON");
        }

        @Test
        void refusesATooLargeBody() {
            refused(post("/api/codes/decode", "{\"bytes\":\"" + "0".repeat(Sent.MOST_BYTES) + "\"}"), 413, "4 MB");
        }

        @Test
        void refusesAnotherContentTypeAndAnotherMethod() {
            refused(
                    answer(mvc.post()
                            .uri("/api/air")
                            .header("Authorization", "Bearer " + key)
                            .contentType(MediaType.APPLICATION_FORM_URLENCODED)
                            .content("rpm=1")
                            .exchange()
                            .getResponse()),
                    415,
                    "application/json");
            refused(get("/api/air"), 405, "another method");
            refused(get("/api/nothing"), 404);
        }

        @Test
        void asksForAKey() {
            refused(answer(mvc.get().uri("/api/codes/P0171").exchange().getResponse()), 401, "Bearer");
        }
    }

    @Nested
    class Description {

        private final JsonNode description =
                JsonMapper.builder().build().readTree(ApiTest.class.getResourceAsStream("/bench/openapi.json"));

        @Test
        void isServedWithoutAKey() {
            var served = answer(mvc.get().uri("/api/openapi.json").exchange().getResponse());
            assertThat(served.status).isEqualTo(200);
            assertThat(served.json.get("openapi").stringValue()).startsWith("3.1");
            assertThat(served.json).isEqualTo(description);
        }

        @Test
        void namesExactlyTheCallsThatAreHere() {
            Set<String> here = calls().keySet();
            Set<String> described = new TreeSet<>();
            description
                    .get("paths")
                    .properties()
                    .forEach(path -> path.getValue()
                            .propertyNames()
                            .forEach(method ->
                                    described.add(method.toUpperCase(java.util.Locale.ROOT) + " " + path.getKey())));
            assertThat(described).isEqualTo(here);
        }

        @Test
        void namesExactlyTheFieldsThatAreAnswered() {
            var wrong = new TreeSet<String>();
            calls().values().forEach(type -> compare(type, wrong));
            assertThat(wrong).isEmpty();
        }

        @Test
        void carriesExamplesThatAreAnswered() {
            description.get("paths").properties().forEach(path -> {
                var example = path.getValue().at("/post/requestBody/content/application~1json/example");
                if (!example.isMissingNode()) {
                    assertThat(post(path.getKey(), example.toString()).status)
                            .as(path.getKey())
                            .isEqualTo(200);
                }
            });
        }

        /** Method and path to what is answered. */
        private Map<String, Type> calls() {
            Map<String, Type> calls = new java.util.TreeMap<>();
            mappings.getHandlerMethods().forEach((info, handler) -> {
                if (handler.getBeanType().getPackageName().startsWith("idlewright.")
                        && handler.getBeanType().isAnnotationPresent(RestController.class)) {
                    info.getMethodsCondition()
                            .getMethods()
                            .forEach(method -> info.getPatternValues()
                                    .forEach(path -> calls.put(
                                            HttpMethod.valueOf(method.name()) + " "
                                                    // What a name may look like is no matter of the description.
                                                    + path.replaceAll(":[^/]*?\\}(?=[/.]|$)", "}"),
                                            handler.getMethod().getGenericReturnType())));
                }
            });
            return calls;
        }

        private void compare(Type type, Set<String> wrong) {
            if (type instanceof ParameterizedType list) {
                compare(list.getActualTypeArguments()[0], wrong);
            } else if (type instanceof Class<?> answer && answer.isRecord()) {
                var fields = Arrays.stream(answer.getRecordComponents())
                        .map(RecordComponent::getName)
                        .collect(Collectors.toCollection(TreeSet::new));
                var schema = description.at("/components/schemas/" + answer.getSimpleName() + "/properties");
                var described = new TreeSet<>(schema.propertyNames());
                if (!fields.equals(described)) {
                    wrong.add(answer.getSimpleName() + " answers " + fields + ", described " + described);
                }
                Arrays.stream(answer.getRecordComponents()).forEach(part -> compare(part.getGenericType(), wrong));
            }
        }
    }
}
