package idlewright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.journal.rules.Entry;
import idlewright.journal.rules.ImageMark;
import idlewright.journal.rules.ImageMark.Kind;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("A mark beside a picture")
class MarksTest {

    private static final String PASSWORD = "three loose hose clamps";

    @Autowired
    MockMvcTester mvc;

    @Autowired
    Marks marks;

    @Autowired
    Exhibits exhibits;

    @Autowired
    Journal journal;

    @Autowired
    People people;

    @Autowired
    JdbcClient sql;

    private final int ticket = ThreadLocalRandom.current().nextInt(1_000_000, Integer.MAX_VALUE);
    private Person tamsin;
    private String signIn;
    private Exhibit photo;

    @BeforeEach
    void aPhotoIsKept() throws Exception {
        signIn = "m" + ticket;
        people.hire("Odile", "o" + signIn, PASSWORD, null, Set.of(Role.OWNER));
        tamsin = people.hire("Tamsin Oak", signIn, PASSWORD, null, Set.of(Role.TECHNICIAN));
        var picture = new BufferedImage(400, 200, BufferedImage.TYPE_INT_RGB);
        picture.setRGB(0, 0, ticket & 0xffffff);
        var out = new ByteArrayOutputStream();
        ImageIO.write(picture, "png", out);
        photo = exhibits.keep(new ByteArrayInputStream(out.toByteArray()), "old.png", ticket, 1, "photo", "Old sensor");
    }

    @Test
    @DisplayName("is drawn over it by the server, says who and when, and leaves the picture as it was")
    void isDrawnOverIt() throws Exception {
        byte[] before = Files.readAllBytes(exhibits.file(photo.id()));
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String page = "/exhibits/" + photo.id() + "/marks";
        assertThat(browser.get(page).body())
                .contains("None so far.", "From the left")
                .doesNotContain("<svg class=\"marks\"");
        assertThat(browser.post(
                                page, "kind", "CIRCLE", "x", "25", "y", "50", "toX", "30", "toY", "50", "words",
                                "<oil>")
                        .path())
                .isEqualTo(page);
        assertThat(browser.get(page).body())
                .contains("viewBox=\"0 0 400 200\"")
                // The middle at 100, 100; 5 % of 400 pixels to the rim.
                .contains("d=\"M80.0 100.0a20.0 20.0 0 1 0 40.0 0a20.0 20.0 0 1 0 -40.0 0\"")
                .contains("1 &lt;oil&gt;", "circle at 25 % across, 50 % down: &lt;oil&gt;", "Tamsin Oak");
        assertThat(Files.readAllBytes(exhibits.file(photo.id()))).isEqualTo(before);
        assertThat(journal.of(ticket))
                .extracting(Entry::sentence)
                .last()
                .isEqualTo("Marked exhibit " + photo.id() + ": circle.");
        assertThat(journal.of(ticket)).extracting(Entry::facts).noneMatch(facts -> facts.contains("oil"));
    }

    @ParameterizedTest(name = "{0} without a second point is drawn as {1}")
    @CsvSource({
        "CIRCLE, M40.0 100.0a48.0 48.0 0 1 0 96.0 0a48.0 48.0 0 1 0 -96.0 0, 22",
        "ARROW, M136.0 76.0L88.0 100.0, 22",
        "WORDS, '', 22"
    })
    void isDrawnWithoutASecondPoint(Kind kind, String path, BigDecimal x) {
        marks.add(photo.id(), kind, x, new BigDecimal("50"), null, null, "here");
        var sketch = marks.of(photo.id()).sketch();
        assertThat(sketch.path(sketch.drawn().get(0))).startsWith(path);
    }

    @Test
    @DisplayName("that somebody typed wrongly is refused beside its field, and what was typed stays")
    void isRefusedBesideItsField() {
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String page = "/exhibits/" + photo.id() + "/marks";
        browser.get(page);
        var refused = browser.post(page, "kind", "ARROW", "x", "120", "y", "left", "toX", "3", "words", "flow mark");
        assertThat(refused.status()).isEqualTo(422);
        assertThat(refused.body()).contains("value=\"120\"", "value=\"flow mark\"", "id=\"f-y-wrong\"");
        refused = browser.post(page, "kind", "ARROW", "x", "120", "y", "5", "toX", "3");
        assertThat(refused.body())
                .contains("A place in the picture is 0 to 100 %.", "Give both numbers of the second point");
        assertThat(browser.post(page, "kind", "WORDS", "x", "1", "y", "5").body())
                .contains("Write what is to stand there.");
        assertThat(browser.post(page, "x", "1", "y", "5").body()).contains("Choose circle, arrow or words.");
        assertThat(marks.of(photo.id()).marks()).isEmpty();
    }

    @Test
    @DisplayName("taken away is drawn no more, and stays with who, when and why")
    void isTakenAway() {
        people.as(tamsin, () -> marks.add(photo.id(), Kind.WORDS, percent(10), percent(10), null, null, "pin 4"));
        long id = marks.of(photo.id()).marks().get(0).id();
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String removal = "/exhibits/" + photo.id() + "/marks/" + id + "/removal";
        assertThat(browser.get(removal).body()).contains("words at 10 % across, 10 % down: pin 4");
        assertThat(browser.post(removal, "reason", " ").status()).isEqualTo(422);
        assertThat(browser.post(removal, "reason", "It is pin 5.").path())
                .isEqualTo("/exhibits/" + photo.id() + "/marks");
        assertThat(browser.get("/exhibits/" + photo.id() + "/marks").body())
                .contains("Taken away by Tamsin Oak", "It is pin 5.")
                .doesNotContain("<svg class=\"marks\"");
        assertThat(browser.get(removal).status()).isEqualTo(404);
        assertThat(sql.sql("select words from image_mark where id = ?")
                        .param(id)
                        .query(String.class)
                        .single())
                .isEqualTo("pin 4");
    }

    @Test
    void isPaintedIntoACopyForPaper() throws Exception {
        marks.add(photo.id(), Kind.CIRCLE, percent(50), percent(50), percent(60), percent(50), "");
        var painted = ImageIO.read(new ByteArrayInputStream(marks.painted(marks.of(photo.id()))));
        assertThat(painted.getWidth()).isEqualTo(400);
        // On the rim, 40 pixels left of the middle; the photo is black.
        assertThat(new Color(painted.getRGB(160, 100)).getRed()).isGreaterThan(100);
        assertThat(new Color(painted.getRGB(200, 100)).getRed()).isLessThan(40);
    }

    @Test
    @DisplayName("is a drawing of its own that an XML reader reads, whatever words somebody typed")
    void isADrawingOfItsOwn() throws Exception {
        marks.add(photo.id(), Kind.WORDS, percent(99), percent(1), null, null, "<b>&\"' \u0001 pin");
        String svg = marks.of(photo.id()).sketch().svg("photo-01.png", "Photo & marks");
        var document = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new ByteArrayInputStream(svg.getBytes(StandardCharsets.UTF_8)));
        assertThat(document.getElementsByTagName("text").item(0).getTextContent())
                .contains("<b>&\"'", "pin");
        assertThat(document.getElementsByTagName("image")
                        .item(0)
                        .getAttributes()
                        .getNamedItem("href")
                        .getNodeValue())
                .isEqualTo("photo-01.png");
    }

    @Test
    void goesBesidePicturesOnly() {
        var log = exhibits.keep(
                new ByteArrayInputStream("rpm\n750\n".getBytes(StandardCharsets.UTF_8)), "a.csv", ticket, 1, "log", "");
        assertThatExceptionOfType(NotFound.class).isThrownBy(() -> marks.of(log.id()));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "update image_mark set words = 'x'",
                "delete from image_mark",
                "delete from image_mark_removal",
                "truncate image_mark cascade"
            })
    @DisplayName("is never changed in its row")
    void isNeverChanged(String attempt) {
        marks.add(photo.id(), Kind.CIRCLE, percent(50), percent(50), null, null, "");
        ImageMark mark = marks.of(photo.id()).marks().get(0);
        marks.remove(photo.id(), mark.id(), "Wrong.");
        assertThatExceptionOfType(NotFound.class).isThrownBy(() -> marks.remove(photo.id(), mark.id(), "Again."));
        assertThatThrownBy(() -> sql.sql(attempt).update())
                .rootCause()
                .message()
                .containsAnyOf("are never changed", "permission denied");
    }

    @Test
    void numbersNoMoreThanFortyOnAPicture() {
        for (int i = 0; i < 40; i++) {
            marks.add(photo.id(), Kind.WORDS, percent(i), percent(i), null, null, "x");
        }
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> marks.add(photo.id(), Kind.WORDS, percent(1), percent(1), null, null, "x"));
    }

    private static BigDecimal percent(int value) {
        return BigDecimal.valueOf(value);
    }
}
