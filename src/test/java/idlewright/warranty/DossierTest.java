package idlewright.warranty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;

import idlewright.bench.Bench;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Authorisations;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import idlewright.journal.Marks;
import idlewright.journal.rules.Chain;
import idlewright.journal.rules.ImageMark;
import idlewright.people.ApiKeys;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Swaps;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("A dossier")
class DossierTest {

    private static final AtomicInteger NUMBER = new AtomicInteger();
    private static final Conditions HOT =
            new Conditions(KeyState.RUNNING, null, 92.0, 31.0, "N", Motion.PARKED, null, null);
    private static final String PASSWORD = "three loose hose clamps";

    @Autowired
    private Journal journal;

    @Autowired
    MockMvcTester mvc;

    @Autowired
    People people;

    @Autowired
    Shops shops;

    @Autowired
    Customers customers;

    @Autowired
    Vehicles vehicles;

    @Autowired
    Tickets tickets;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Bench bench;

    @Autowired
    Findings findings;

    @Autowired
    Swaps swaps;

    @Autowired
    Exhibits exhibits;

    @Autowired
    Marks marks;

    @Autowired
    ApiKeys keys;

    @Autowired
    Dossiers dossiers;

    @Autowired
    JdbcClient jdbc;

    @Value("${idlewright.home}")
    Path home;

    @TempDir
    Path folder;

    Person writer;
    String signIn;
    SymptomRef thread;

    @BeforeAll
    static void callTheJudge() {
        VeraGreenfieldFoundryProvider.initialise();
    }

    @BeforeEach
    void aThreadIsOnTheBooks() throws IOException {
        signIn = "d" + ProcessHandle.current().pid() + "-" + NUMBER.incrementAndGet();
        // Until somebody owns the shop every page leads to the first start.
        people.hire("Odell Rowan", "o" + signIn, PASSWORD, null, Set.of(Role.OWNER));
        writer = people.hire("Wren Alder", signIn, PASSWORD, null, Set.of(Role.WRITER, Role.TECHNICIAN));
        byte[] photo = photo();
        thread = people.as(writer, () -> {
            long customer = customers
                    .add(new Customers.Telling("Ilse Marran", "555 0142", null, "4 Grand Row", "PHONE", null))
                    .id();
            long vehicle = vehicles.add(
                            customer,
                            new Vehicles.Telling(
                                    "TESTVIN0000000042",
                                    "AB 12 CD",
                                    "Brightwater",
                                    "Finch",
                                    2014,
                                    ("BW" + signIn).toUpperCase(),
                                    new BigDecimal("2.2"),
                                    4,
                                    "PETROL",
                                    "NATURAL",
                                    "HOT_FILM",
                                    "MANUAL",
                                    "km"))
                    .id();
            TicketNumber number =
                    tickets.open(new Tickets.Opening(vehicle, new BigDecimal("86940"), null, null, "SHOW", "YES"));
            SymptomRef heard = tickets.hear(number, "hesitation", "It hesitates, says Marran, when I pull away");
            authorisations.agree(
                    number,
                    Agreement.DIAGNOSIS,
                    Money.of("95.00", shops.shop().currency().getCurrencyCode()),
                    "=go ahead, Mrs Marran said",
                    Channel.PHONE,
                    "Ilse Marran",
                    null);
            long picture = exhibits.keep(
                            new ByteArrayInputStream(photo),
                            "sensor.jpg",
                            number.value(),
                            1,
                            "photo",
                            "Marran's old sensor")
                    .id();
            marks.add(
                    picture,
                    ImageMark.Kind.CIRCLE,
                    new BigDecimal("40"),
                    new BigDecimal("30"),
                    null,
                    null,
                    "oil, said Marran");
            exhibits.keep(
                    new ByteArrayInputStream("t,lat\n0,51.5\n".getBytes(StandardCharsets.UTF_8)),
                    "drive.csv",
                    number.value(),
                    null,
                    "log",
                    "");
            measure(number, false, "5.1");
            findings.decide(heard, "air-sensor-low", "oil on the film, as Marran feared", "Renew the sensor");
            long swap = swaps.start(
                    heard,
                    new RemovedPart("AF-2210-7", "Halden", "21-114", "oil on the film", Went.WARRANTY_HOLD),
                    new FittedPart("air-flow sensor", "AF-2210-7", "Halden", "LOT 88", "Tern Parts", null),
                    false,
                    new Pay.Free("warranty of the supplier"));
            var answers = new EnumMap<Check, Answer>(Check.class);
            for (Check check : Check.values()) {
                answers.put(check, Answer.yes());
            }
            swaps.answer(swap, answers);
            swaps.makeFinal(swap);
            measure(number, true, "12.1");
            return heard;
        });
    }

    private void measure(TicketNumber number, boolean after, String flow) {
        long test = bench.start(number, "air-flow", after, List.of(1), HOT, null);
        bench.keep(test, "flow-2500", flow, "g/s");
        bench.keep(test, "rpm-2500", "2490", "rpm");
        bench.finish(test);
    }

    /** The signal over a ramp of twenty seconds; before the repair it stands still from 8 to 12 s. */
    private void sweep(boolean after) {
        var columns = new StringBuilder();
        for (int tenth = 0; tenth <= 200; tenth++) {
            double shown = after || tenth < 80 ? tenth : tenth < 120 ? 80 : 80 + (tenth - 120) * 1.5;
            columns.append(String.format(Locale.ROOT, "%.1f\t%.3f%n", tenth / 10.0, 1.02 + 1.12 * shown / 200));
        }
        long test = bench.start(thread.ticket(), "sweep", after, List.of(1), HOT, null);
        bench.keep(test, "ramp", columns.toString(), "s");
        bench.finish(test);
    }

    @Test
    @DisplayName("joins a claim that was written before, until that goes out")
    void joinsAClaim() {
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        browser.get("/claims/new");
        String claim = browser.post(
                        "/claims",
                        "ticket",
                        "" + thread.ticket(),
                        "place",
                        "1",
                        "supplier",
                        "Tern Parts",
                        "part",
                        "sensor",
                        "amount",
                        "10")
                .path();
        assertThat(browser.get(claim).body()).contains("none sealed yet", thread.url() + "/dossiers/new");
        String first = seal(false, false).code();
        assertThat(browser.get(claim).body()).contains("none joined yet", "Join the dossier", first);
        assertThat(browser.post(claim + "/dossier", "dossier", "D-1-1-v1").body())
                .contains("There is no dossier D-1-1-v1 of ticket");
        browser.post(claim + "/dossier", "dossier", first);
        assertThat(browser.get(claim).body())
                .contains("Dossier " + first + " joined")
                .doesNotContain("Join the dossier");
        String second = seal(false, false).code();
        browser.post(claim + "/dossier", "dossier", second);
        browser.post(claim + "/steps", "kind", "SENT", "note", "by post");
        String third = seal(false, false).code();
        assertThat(browser.post(claim + "/dossier", "dossier", third).body()).contains("This claim went out already.");
        browser.post(claim + "/steps", "kind", "SENT", "note", "with the newer readings", "dossier", third);
        assertThat(jdbc.sql("select string_agg(dossier_code, ' ' order by id) from claim_dossier where claim_id = ?")
                        .param(Long.parseLong(claim.replaceAll("\\D", "")))
                        .query(String.class)
                        .single())
                .isEqualTo(first + " " + second + " " + third);
        assertThat(browser.get("/claims").body()).contains(third);
    }

    @Test
    @DisplayName("passes sha256sum -c and openssl once it is unpacked")
    void passesOrdinaryTools() throws Exception {
        unpack(Files.readAllBytes(dossiers.zip(seal(true, true).code())));
        assertThat(run("sha256sum", "-c", "SHA256SUMS"))
                .startsWith("0:")
                .contains(
                        "dossier.pdf: OK",
                        "readings.csv: OK",
                        "authorisations.csv: OK",
                        "story.json: OK",
                        "journal.jsonl: OK",
                        "photos/photo-01.jpg: OK",
                        "originals/photo-01.jpg: OK",
                        "originals/log-02.csv: OK",
                        "VERIFY.txt: OK")
                .doesNotContain("FAILED");
        String verify = Files.readString(folder.resolve("VERIFY.txt"));
        for (String line : verify.lines().map(String::strip).toList()) {
            if (line.startsWith("sha256sum -c") || line.startsWith("openssl pkeyutl")) {
                assertThat(run("sh", "-c", line)).as(line).startsWith("0:");
            }
        }
        assertThat(verify).contains("sha256sum -c SHA256SUMS", "openssl pkeyutl -verify");
    }

    /** What docs/evidence.md promises a stranger. */
    @Test
    @DisplayName("lets a stranger with two commands and one changed byte see which file it was")
    void letsAStrangerSeeWhichFile() throws Exception {
        unpack(Files.readAllBytes(dossiers.zip(seal(false, false).code())));
        assertThat(run("sha256sum", "-c", "SHA256SUMS")).startsWith("0:");
        Path readings = folder.resolve("readings.csv");
        byte[] bytes = Files.readAllBytes(readings);
        int five = new String(bytes, StandardCharsets.UTF_8).indexOf("5.1");
        bytes[five] = '9';
        Files.write(readings, bytes);
        String said = run("sha256sum", "-c", "SHA256SUMS");
        assertThat(said).startsWith("1:");
        assertThat(said.lines().filter(line -> line.endsWith(": FAILED"))).containsExactly("readings.csv: FAILED");
        assertThat(run("sh", "-c", OPENSSL)).startsWith("0:").contains("Signature Verified Successfully");
        // Whoever writes the list anew to cover it up cannot sign it.
        String sums = run("sha256sum", "readings.csv").substring(2, 66);
        Path list = folder.resolve("SHA256SUMS");
        Files.writeString(
                list, Files.readString(list).replaceAll("[0-9a-f]{64}  readings.csv", sums + "  readings.csv"));
        assertThat(run("sha256sum", "-c", "SHA256SUMS")).startsWith("0:");
        assertThat(run("sh", "-c", OPENSSL)).startsWith("1:");
    }

    private static final String OPENSSL =
            "openssl pkeyutl -verify -pubin -inkey shop-key.pem -rawin -in SHA256SUMS -sigfile SHA256SUMS.sig";

    @Test
    @DisplayName("has the marks of its photos beside them, without the name of somebody who is not named")
    void hasTheMarksBeside() throws Exception {
        var files = read(Files.readAllBytes(dossiers.zip(seal(false, false).code())));
        JsonNode mark = JsonMapper.shared().readTree(files.get("marks.json")).get(0);
        assertThat(mark.get("photo").asString()).isEqualTo("photos/photo-01.jpg");
        assertThat(mark.get("xPct").doubleValue()).isEqualTo(40.0);
        assertThat(mark.get("words").asString()).isEqualTo("oil, said the customer");
        assertThat(new String(files.get("photos/photo-01-marks.svg"), StandardCharsets.UTF_8))
                .contains("href=\"photo-01.jpg\"", "1 oil, said the customer");
        assertThat(ImageIO.read(new ByteArrayInputStream(files.get("photos/photo-01.jpg")))
                        .getRGB(256, 144))
                .as("the photo itself is untouched")
                .isEqualTo(0xff000000);
        assertThat(new String(files.get("swap-checks.csv"), StandardCharsets.UTF_8))
                .contains("Air-flow sensor replaced,final,Flow mark matched,yes");
        assertThat(text(files.get("dossier.pdf")).replaceAll("\\s+", " "))
                .contains("circle at 40 % across, 30 % down: oil, said the customer (Wren Alder");
    }

    @Test
    @DisplayName("is listed, fetched and checked by a program with a key, and by nobody without one")
    void isThereForPrograms() throws Exception {
        var sealed = seal(false, false);
        var again = seal(true, false);
        String key = people.as(writer, () -> keys.make(signIn));
        JsonNode list = JsonMapper.shared().readTree(api("/api/dossiers", key).getContentAsString());
        assertThat(list.get("dossiers").get(0).get("code").asString()).isEqualTo(again.code());
        assertThat(list.get("dossiers").get(0).get("supersedes").asString()).isEqualTo(sealed.code());
        JsonNode one = JsonMapper.shared()
                .readTree(api("/api/dossiers/" + sealed.code(), key).getContentAsString());
        assertThat(one.get("sha256").asString()).isEqualTo(sealed.zipSha256());
        assertThat(one.get("ticket").intValue()).isEqualTo(thread.ticket().value());
        assertThat(one.get("symptom").intValue()).isEqualTo(1);
        assertThat(one.get("supersededBy").asString()).isEqualTo(again.code());
        assertThat(one.get("sealedAt").asString()).isEqualTo(sealed.sealedAt().toString());
        byte[] zip = api("/api/dossiers/" + sealed.code() + ".zip", key).getContentAsByteArray();
        assertThat(zip).isEqualTo(Files.readAllBytes(dossiers.zip(sealed.code())));
        assertThat(api("/api/dossiers/" + sealed.code() + ".pdf", key).getContentType())
                .isEqualTo("application/pdf");
        assertThat(api("/api/dossiers/D-1-1-v9", key))
                .satisfies(missing -> assertThat(missing.getStatus()).isEqualTo(404))
                .satisfies(missing -> assertThat(missing.getContentType()).startsWith("application/problem+json"));
        assertThat(mvc.get().uri("/api/dossiers").exchange().getResponse().getStatus())
                .isEqualTo(401);
        var files = read(zip);
        files.get("story.json")[20] ^= 1;
        var checked = mvc.post()
                .uri("/api/verify")
                .multipart()
                .file(new MockMultipartFile(
                        "file", "D.zip", "application/zip", Files.readAllBytes(pack(files, folder))))
                .header("Authorization", "Bearer " + key)
                .exchange()
                .getResponse();
        JsonNode answer = JsonMapper.shared().readTree(checked.getContentAsString());
        assertThat(answer.get("whole").booleanValue()).isFalse();
        assertThat(answer.get("signed").booleanValue()).isTrue();
        assertThat(answer.get("firstBad").asString()).isEqualTo("story.json");
    }

    private org.springframework.mock.web.MockHttpServletResponse api(String path, String key) {
        return mvc.get()
                .uri(path)
                .header("Authorization", "Bearer " + key)
                .exchange()
                .getResponse();
    }

    private static Path pack(Map<String, byte[]> files, Path folder) throws IOException {
        return Files.write(folder.resolve("sent.zip"), pack(files));
    }

    @Test
    @DisplayName("is good paper by the judgement of veraPDF and tells the whole story")
    void isGoodPaper() throws Exception {
        people.as(writer, () -> {
            sweep(false);
            sweep(true);
            return null;
        });
        var sealed = seal(true, false);
        byte[] pdf = Files.readAllBytes(dossiers.pdf(sealed.code()));
        Files.createDirectories(Path.of("target/specimen"));
        Files.write(Path.of("target/specimen/dossier.pdf"), pdf);
        assertThat(failures(pdf, PDFAFlavour.PDFA_3_U)).isEmpty();
        assertThat(failures(pdf, PDFAFlavour.PDFUA_1)).isEmpty();
        try (var document = Loader.loadPDF(pdf)) {
            String text = new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
            assertThat(text)
                    .contains(sealed.code(), "Brightwater Finch", "TESTVIN0000000042", "Ilse Marran", "It hesitates")
                    .containsPattern(
                            "5\\.1 g/s ?outside, low.{0,20} 12\\.1 g/s ?within.{0,20} 7\\.0 to 17\\.3 g/s: physics")
                    .contains(
                            "oil on the film",
                            "AF-2210-7, Halden, serial or lot LOT 88, from Tern Parts",
                            "Flow mark matched yes")
                    .contains(
                            "Recorded curves",
                            "Before the repair Air-flow sensor, slow sweep",
                            "Marked: flat spot from 8")
                    .contains("After the repair Air-flow sensor, slow sweep")
                    .contains("95.00", "by phone", "Kept exhibit");
            assertThat(text.replace(" ", "")).contains(sealed.journalHead(), sealed.fingerprint());
            assertThat(document.getDocumentCatalog()
                            .getNames()
                            .getEmbeddedFiles()
                            .getNames())
                    .containsOnlyKeys(
                            "readings.csv",
                            "authorisations.csv",
                            "swap-checks.csv",
                            "proof.csv",
                            "story.json",
                            "journal.jsonl",
                            "marks.json",
                            "photo-01-marks.svg",
                            "photo-01.jpg");
        }
    }

    @Test
    @DisplayName("without the customer's name has it nowhere, in no file and no sentence")
    void namesNobody() throws Exception {
        // As an earlier version wrote it: the house itself puts no name into the journal any more.
        people.as(writer, () -> {
            journal.note("cause found", thread.ticket().value(), "Frau Marran saw it.", Map.of());
            return null;
        });
        byte[] zip = Files.readAllBytes(dossiers.zip(seal(false, false).code()));
        var files = read(zip);
        assertThat(files).doesNotContainKey("originals/photo-01.jpg");
        for (var file : files.entrySet()) {
            String text = file.getKey().endsWith(".pdf")
                    ? text(file.getValue())
                    : new String(file.getValue(), StandardCharsets.ISO_8859_1);
            assertThat(text)
                    .as(file.getKey())
                    .doesNotContainIgnoringCase("Marran")
                    .doesNotContain("Ilse", "555 0142", "AB 12 CD", "Grand Row");
        }
        assertThat(new String(files.get("journal.jsonl"), StandardCharsets.UTF_8))
                .contains("\"withheld\":\"names the customer\"");
        assertThat(new String(files.get("authorisations.csv"), StandardCharsets.UTF_8))
                .contains("the customer");
    }

    @Test
    @DisplayName("gives readings with their units, and cells that no spreadsheet calculates")
    void givesReadings() throws Exception {
        var files = read(Files.readAllBytes(dossiers.zip(seal(true, false).code())));
        assertThat(new String(files.get("readings.csv"), StandardCharsets.UTF_8))
                .startsWith("taken,test,reading,value,unit,verdict,held against,conditions,at,by\r\n")
                .contains(
                        "before,\"Mass air flow, live data\",\"Air flow at 2,500 rpm, standing\",5.1,g/s,\"outside, low\",\"7.0 to 17.3 g/s: physics")
                .contains("after,\"Mass air flow, live data\",\"Air flow at 2,500 rpm, standing\",12.1,g/s,within")
                .contains("running, coolant 92 °C");
        assertThat(new String(files.get("authorisations.csv"), StandardCharsets.UTF_8))
                .contains("'=go ahead");
        JsonNode story = JsonMapper.shared().readTree(files.get("story.json"));
        assertThat(story.get("about").get("VIN").asString()).isEqualTo("TESTVIN0000000042");
        assertThat(story.get("swaps").get(0).get("checks").get("Connector").asString())
                .isEqualTo("yes");
    }

    @Test
    @DisplayName("carries the journal so that each entry can be hashed again up to the head")
    void carriesTheJournal() throws Exception {
        var sealed = seal(true, false);
        var lines = new String(
                        read(Files.readAllBytes(dossiers.zip(sealed.code()))).get("journal.jsonl"),
                        StandardCharsets.UTF_8)
                .lines()
                .toList();
        String previous = null;
        int whole = 0;
        for (String line : lines) {
            JsonNode link = JsonMapper.shared().readTree(line);
            if (previous != null) {
                assertThat(link.get("previousHash").asString()).isEqualTo(previous);
            }
            previous = link.get("hash").asString();
            if (link.has("entry")) {
                whole++;
                String entry = line.substring("{\"entry\":".length(), line.indexOf(",\"hash\":\""));
                var digest = MessageDigest.getInstance("SHA-256");
                digest.update(HexFormat.of().parseHex(link.get("previousHash").asString()));
                digest.update(entry.getBytes(StandardCharsets.UTF_8));
                assertThat(HexFormat.of().formatHex(digest.digest())).isEqualTo(previous);
            }
        }
        assertThat(whole).isGreaterThanOrEqualTo(5);
        assertThat(previous).isEqualTo(sealed.journalHead()).isNotEqualTo(Chain.START);
    }

    @Test
    @DisplayName("sealed again is another version that names the old one; both stay")
    void isSealedAgain() {
        var first = seal(false, false);
        var second = seal(true, false);
        assertThat(first.code()).isEqualTo("D-%s-1-v1".formatted(thread.ticket()));
        assertThat(second.code()).isEqualTo("D-%s-1-v2".formatted(thread.ticket()));
        assertThat(second.replaces()).isEqualTo(first.code());
        assertThat(dossiers.get(first.code()).replacedBy()).isEqualTo(second.code());
        assertThat(dossiers.zip(first.code())).isRegularFile();
        assertThat(dossiers.of(thread.ticket()))
                .extracting(DossierView::code)
                .containsExactly(first.code(), second.code());
        assertThatThrownBy(() -> jdbc.sql("update dossier set named = true where code = ?")
                        .param(first.code())
                        .update())
                .isInstanceOf(DataAccessException.class);
    }

    @Test
    @DisplayName("lies under its hash; the key lies where only its owner reads it")
    void liesUnderItsHash() throws Exception {
        var sealed = seal(false, false);
        byte[] zip = Files.readAllBytes(home.resolve("dossiers")
                .resolve(sealed.zipSha256().substring(0, 2))
                .resolve(sealed.zipSha256().substring(2, 4))
                .resolve(sealed.zipSha256()));
        assertThat(HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(zip)))
                .isEqualTo(sealed.zipSha256());
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(home.resolve("seal-key.pem"))))
                .isEqualTo("rw-------");
        assertThat(new String(zip, StandardCharsets.ISO_8859_1)).doesNotContain("PRIVATE KEY");
    }

    @Test
    @DisplayName("is checked by anybody, who hears that it is whole or which file was changed")
    void isCheckedByAnybody() throws Exception {
        var sealed = seal(false, false);
        byte[] zip = Files.readAllBytes(dossiers.zip(sealed.code()));
        assertThat(verify(zip)).contains("Whole and genuine", "and the seal is this shop&#39;s.");
        var files = read(zip);
        files.get("readings.csv")[10] ^= 1;
        assertThat(verify(pack(files)))
                .contains("Not as it was sealed", "“readings.csv” is not as it was sealed: changed.");
        assertThat(verify("nonsense".getBytes(StandardCharsets.UTF_8))).contains("This is not a ZIP that can be read");
    }

    @Test
    @DisplayName("is sealed, read, fetched and found by a writer, and is not there for a technician")
    void isSealedOnItsPage() {
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String url = thread.url() + "/dossiers/new";
        assertThat(browser.get(url).body())
                .contains("Seal a dossier", "a supplier or maker: without the customer&#39;s name");
        String page = browser.post(url, "named", "no", "files", "shown").path();
        assertThat(page).isEqualTo("/dossiers/D-%s-1-v1".formatted(thread.ticket()));
        assertThat(browser.get(page).body()).contains("sha256sum -c SHA256SUMS", "not named", "Write a claim");
        assertThat(browser.get(page + ".pdf").response().getContentType()).isEqualTo("application/pdf");
        assertThat(browser.get(page + ".zip").response().getHeader("Content-Disposition"))
                .isEqualTo("attachment; filename=\"D-%s-1-v1.zip\"".formatted(thread.ticket()));
        assertThat(browser.get("/dossiers").body()).contains(page);
        assertThat(browser.get("/find?q=d-" + thread.ticket()).body()).contains(page);
        assertThat(browser.get(thread.ticket().url()).body()).contains("sealed", page);
        var technician = "t" + signIn;
        people.hire("Tamsin Oak", technician, PASSWORD, null, Set.of(Role.TECHNICIAN));
        var other = new Browser(mvc);
        other.signIn(technician, PASSWORD);
        assertThat(other.get(page).status()).isEqualTo(404);
        assertThat(other.get(page + ".zip").status()).isEqualTo(404);
        assertThat(new Browser(mvc).get("/verify").status()).isEqualTo(200);
    }

    @Test
    @DisplayName("of a thread that is not there is refused")
    void isRefused() {
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        assertThat(browser.get(thread.ticket().url() + "/symptoms/7/dossiers/new")
                        .status())
                .isEqualTo(404);
        assertThat(browser.get("/dossiers/D-1-1-v9").status()).isEqualTo(404);
        assertThatThrownBy(() -> people.as(writer, () -> dossiers.zip("D-1-1-v9")))
                .isNotInstanceOf(Refused.class);
    }

    private DossierView seal(boolean named, boolean originals) {
        return people.as(writer, () -> dossiers.seal(thread, named, originals));
    }

    private String verify(byte[] zip) throws Exception {
        var page = mvc.get().uri("/verify").exchange();
        var session =
                (org.springframework.mock.web.MockHttpSession) page.getRequest().getSession(true);
        var token = java.util.regex.Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"")
                .matcher(page.getResponse().getContentAsString());
        assertThat(token.find()).isTrue();
        var answer = mvc.post()
                .uri("/verify")
                .multipart()
                .file(new MockMultipartFile("file", "D.zip", "application/zip", zip))
                .param("_csrf", token.group(1))
                .param("submission", java.util.UUID.randomUUID().toString())
                .session(session)
                .header("Sec-Fetch-Site", "same-origin")
                .exchange();
        assertThat(answer.getResponse().getStatus()).isEqualTo(200);
        return answer.getResponse().getContentAsString();
    }

    private static byte[] photo() throws IOException {
        var out = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(640, 480, BufferedImage.TYPE_INT_RGB), "jpg", out);
        return out.toByteArray();
    }

    private static String text(byte[] pdf) throws IOException {
        try (var document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document);
        }
    }

    private static Map<String, byte[]> read(byte[] zip) throws IOException {
        var files = new LinkedHashMap<String, byte[]>();
        try (var in = new ZipInputStream(new ByteArrayInputStream(zip))) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                files.put(entry.getName(), in.readAllBytes());
            }
        }
        return files;
    }

    private static byte[] pack(Map<String, byte[]> files) throws IOException {
        var out = new ByteArrayOutputStream();
        try (var zip = new ZipOutputStream(out)) {
            for (var file : files.entrySet()) {
                zip.putNextEntry(new ZipEntry(file.getKey()));
                zip.write(file.getValue());
                zip.closeEntry();
            }
        }
        return out.toByteArray();
    }

    private void unpack(byte[] zip) throws IOException {
        for (var file : read(zip).entrySet()) {
            Path place = folder.resolve(file.getKey());
            Files.createDirectories(place.getParent());
            Files.write(place, file.getValue());
        }
    }

    private String run(String... command) throws Exception {
        Process process;
        try {
            process = new ProcessBuilder(command)
                    .directory(folder.toFile())
                    .redirectErrorStream(true)
                    .start();
        } catch (IOException missing) {
            assumeThat(false).as(command[0] + " is on this machine").isTrue();
            throw missing;
        }
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        return process.exitValue() + ":" + said;
    }

    private static List<String> failures(byte[] pdf, PDFAFlavour standard) throws Exception {
        try (var parser = Foundries.defaultInstance().createParser(new ByteArrayInputStream(pdf), standard);
                var validator = Foundries.defaultInstance().createValidator(standard, false)) {
            var result = validator.validate(parser);
            assertThat(result.getTotalAssertions()).isPositive();
            return new ArrayList<>(result.getTestAssertions().stream()
                    .filter(check -> check.getStatus() == TestAssertion.Status.FAILED)
                    .map(check -> check.getRuleId() + " " + check.getMessage())
                    .toList());
        }
    }
}
