package idlewright.frame;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.ForcedColors;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URLDecoder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The specimen pages in a real browser, behind the policy the house sends: no inline style, no inline script. */
@DisplayName("In a browser, the pages")
@EnabledIf("hasABrowser")
class LookIT {

    private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
    private static final Path PAGES = Path.of("target", "specimen");
    private static final String POLICY = "default-src 'self'; frame-ancestors 'none'; form-action 'self'";
    private static final List<String> POSTED = new CopyOnWriteArrayList<>();
    private static final List<String> ASKED = new CopyOnWriteArrayList<>();

    private static HttpServer server;
    private static Playwright playwright;
    private static Browser browser;
    private static String at;

    private BrowserContext context;
    private Page page;
    private final List<String> complaints = new ArrayList<>();

    static boolean hasABrowser() {
        return Files.isExecutable(CHROMIUM);
    }

    @BeforeAll
    static void opens() throws IOException {
        SpecimenTest.laysTheStyleSheetsBeside();
        SpecimenTest specimens = new SpecimenTest();
        specimens.showsATicketAsAThread();
        specimens.showsTheCounterAsSentences();
        specimens.tiesEveryErrorToItsField();
        specimens.showsTheBay();
        specimens.drawsPlotsWithTheirFiguresAsATable();
        specimens.showsBothValuesWhenTwoPeopleChangedTheSame();
        specimens.saysTheSameWhenSomethingIsAbsentAndWhenItIsForbidden();
        server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.createContext("/", LookIT::answer);
        server.setExecutor(Executors.newFixedThreadPool(4));
        server.start();
        at = "http://localhost:" + server.getAddress().getPort() + "/";
        playwright = Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setExecutablePath(CHROMIUM)
                        .setArgs(List.of("--no-sandbox", "--disable-gpu", "--disable-background-networking")));
    }

    @AfterAll
    static void closes() {
        browser.close();
        playwright.close();
        server.stop(0);
    }

    @BeforeEach
    void starts() {
        POSTED.clear();
        ASKED.clear();
        sized(1280, 800, ColorScheme.LIGHT);
    }

    private void sized(int width, int height, ColorScheme scheme) {
        if (context != null) {
            context.close();
        }
        context = browser.newContext(
                new Browser.NewContextOptions().setViewportSize(width, height).setColorScheme(scheme));
        page = context.newPage();
        page.onConsoleMessage(m -> {
            if (m.text().contains("Content Security Policy")) {
                complaints.add(m.text());
            }
        });
        page.onPageError(complaints::add);
    }

    @AfterEach
    void ends() {
        context.close();
        assertThat(complaints).as("complaints of the browser").isEmpty();
    }

    @ParameterizedTest(name = "break no accessibility rule: {0}, {1}")
    @CsvSource({
        "ticket, LIGHT",
        "ticket, DARK",
        "form, LIGHT",
        "form, DARK",
        "counter, LIGHT",
        "bay, LIGHT",
        "bay, DARK",
        "cars, LIGHT",
        "owner, LIGHT",
        "owner, DARK",
        "conflict, LIGHT",
        "absent, LIGHT"
    })
    void breakNoAccessibilityRule(String name, ColorScheme scheme) {
        sized(1280, 800, scheme);
        page.navigate(at + name);
        assertThat(new AxeBuilder(page)
                        .withTags(List.of("wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"))
                        .analyze()
                        .getViolations())
                .extracting(v -> v.getId() + ": " + v.getNodes().get(0).getHtml())
                .isEmpty();
    }

    @ParameterizedTest(name = "fit 320 px without sideways scrolling: {0}")
    @ValueSource(strings = {"ticket", "form", "counter", "bay", "cars", "owner", "conflict", "absent"})
    void fitANarrowScreen(String name) {
        sized(320, 640, ColorScheme.LIGHT);
        page.navigate(at + name);
        assertThat(page.evaluate("document.documentElement.scrollWidth")).isEqualTo(320);
    }

    @Test
    void giveGlovedHandsTargetsLargeEnoughAndFitTheTerminal() {
        sized(1024, 600, ColorScheme.LIGHT);
        page.navigate(at + "bay");
        assertThat((int) page.evaluate("document.documentElement.scrollHeight")).isLessThanOrEqualTo(600);
        for (Locator target :
                page.locator("a:not(.skip), button, input:not([type=hidden])").all()) {
            var box = target.boundingBox();
            String what = target.evaluate("e => e.outerHTML").toString();
            double least = what.contains("data-key") || what.contains("keep") ? 76 : 48;
            assertThat(Math.min(box.width, box.height)).as(what).isGreaterThanOrEqualTo(least);
            assertThat(box.x).as(what).isGreaterThanOrEqualTo(16);
            assertThat(box.x + box.width).as(what).isLessThanOrEqualTo(1024 - 16);
            assertThat(box.y + box.height).as(what).isLessThanOrEqualTo(600 - 16);
        }
        assertThat(size("body")).isGreaterThanOrEqualTo(20);
        assertThat(size(".shown input")).isGreaterThanOrEqualTo(32);
        assertThat(size(".said .v")).isGreaterThanOrEqualTo(32);
        assertThat(size(".bar .who")).isGreaterThanOrEqualTo(20);
    }

    private double size(String selector) {
        return Double.parseDouble(page.locator(selector)
                .first()
                .evaluate("e => getComputedStyle(e).fontSize")
                .toString()
                .replace("px", ""));
    }

    @Test
    void takeTheFocusToWhatIsWrongAndThenToTheField() {
        page.navigate(at + "form");
        PlaywrightAssertions.assertThat(page.locator("[data-problems]")).isFocused();
        page.getByText("Enter the flow as a number, like 9.6").first().click();
        PlaywrightAssertions.assertThat(page.locator("#f-flow")).isFocused();
    }

    /** In forced colours only borders and strokes remain: the knots and the verdicts have to be among them. */
    @Test
    void keepTheirShapesInForcedColours() {
        page.navigate(at + "ticket");
        page.emulateMedia(new Page.EmulateMediaOptions().setForcedColors(ForcedColors.ACTIVE));
        page.screenshot(new Page.ScreenshotOptions().setPath(PAGES.resolve("ticket-forced-colours.png")));
        assertThat(page.evaluate("""
                        () => { const s = getComputedStyle(document.querySelector('.thread > li'), '::before');
                                return s.borderTopStyle + ' ' + (parseFloat(s.borderTopWidth) > 4); }""")).isEqualTo("solid true");
        assertThat(page.evaluate("getComputedStyle(document.querySelector('.v svg')).fill"))
                .isNotEqualTo("none");
    }

    @Test
    void skipToTheMainPartWithTheFirstKey() {
        page.navigate(at + "ticket");
        page.keyboard().press("Tab");
        PlaywrightAssertions.assertThat(page.locator(".skip")).isFocused();
        page.keyboard().press("Enter");
        page.waitForURL("**/ticket#main");
        PlaywrightAssertions.assertThat(page.locator("#main")).isFocused();
    }

    @Test
    void sendAFormOnceHoweverOftenItsButtonIsPressed() {
        page.navigate(at + "form");
        page.evaluate("() => { const b = document.querySelector('.go'); b.click(); b.click(); b.click(); }");
        page.waitForURL("**/ticket");
        assertThat(POSTED).hasSize(1);
    }

    @Test
    void bringBackWhatWasTypedButNotAfterItWasKept() {
        page.navigate(at + "form");
        page.fill("#f-name", "Ines Okafor-Lind");
        page.navigate(at + "counter");
        page.navigate(at + "form");
        PlaywrightAssertions.assertThat(page.locator("#f-name")).hasValue("Ines Okafor-Lind");
        PlaywrightAssertions.assertThat(page.locator(".kept")).containsText("is back");
        page.click(".go");
        page.waitForURL("**/ticket");
        page.navigate(at + "form");
        PlaywrightAssertions.assertThat(page.locator("#f-name")).hasValue("Ines Okafor");
    }

    @Test
    void writeFromThePadIntoTheReading() {
        page.navigate(at + "bay");
        page.click("[data-key=clear]");
        for (String key : List.of("1", "2", ".", ".", "8", "7", "back", "sign")) {
            page.click("[data-key='" + key + "']");
        }
        PlaywrightAssertions.assertThat(page.locator("#f-flow")).hasValue("-12.8");
        page.keyboard().type("3");
        PlaywrightAssertions.assertThat(page.locator("#f-flow")).hasValue("-12.83");
    }

    @Test
    void followAScanAndLeaveNoLettersInTheReading() {
        page.navigate(at + "bay");
        page.fill("#f-flow", "9.");
        page.evaluate("""
                async () => {
                  const field = document.getElementById('f-flow');
                  sessionStorage.clear();
                  addEventListener('pagehide', () => sessionStorage.setItem('left', field.value));
                }""");
        page.keyboard().type("HT1042KX");
        page.keyboard().press("Enter");
        page.waitForURL("**/find?q=HT1042KX");
        assertThat(page.evaluate("sessionStorage.getItem('left')")).isEqualTo("9.");
        assertThat(POSTED).isEmpty();
    }

    @Test
    void keepReadingsTakenOfflineAndSendEachOnceInOrder() {
        sized(1024, 600, ColorScheme.LIGHT);
        page.navigate(at + "bay");
        context.setOffline(true);
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText("Offline");
        page.fill("#f-flow", "9.6");
        for (String next : List.of("9.7", "9.8")) {
            page.click(".keep");
            PlaywrightAssertions.assertThat(page.locator("#f-flow")).hasValue("");
            page.fill("#f-flow", next);
        }
        page.click(".keep");
        PlaywrightAssertions.assertThat(page.locator("form[data-queue]"))
                .containsText("Every question of this test is answered.");
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText("Offline, waiting to be sent: 3");
        page.locator(".waiting-list summary").click();
        PlaywrightAssertions.assertThat(page.locator(".waiting-list")).containsText("Flow 9.7");
        assertThat(POSTED).isEmpty();
        context.setOffline(false);
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText(Pattern.compile("Online, sent .*"));
        assertThat(POSTED).extracting(b -> field(b, "flow")).containsExactly("9.6", "9.7", "9.8");
        assertThat(POSTED)
                .extracting(b -> field(b, "submission"))
                .doesNotHaveDuplicates()
                .doesNotContain("");
        assertThat(POSTED).extracting(b -> field(b, "_csrf")).containsOnly("fresh");
        page.reload();
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText("Online");
        assertThat(POSTED).hasSize(3);
    }

    @Test
    void sendAReadingAtOnceWhenTheNetworkIsThereAndShowTheAnswer() {
        page.navigate(at + "bay");
        page.fill("#f-flow", "9.9");
        page.click(".keep");
        page.waitForURL("**/cars");
        PlaywrightAssertions.assertThat(page.locator("h1")).hasText("Three cars for the bay");
        assertThat(POSTED).hasSize(1);
    }

    @Test
    void showWhatIsWrongWithAReadingInPlace() {
        page.navigate(at + "bay");
        page.fill("#f-flow", "bad");
        page.click(".keep");
        PlaywrightAssertions.assertThat(page.locator("[data-problems]")).isFocused();
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).not().containsText("waiting");
    }

    @Test
    void sendAReadingInTheNameOfItsTakerOnly() {
        page.navigate(at + "bay");
        context.setOffline(true);
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText("Offline");
        page.fill("#f-flow", "9.6");
        page.click(".keep");
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText("Offline, waiting to be sent: 1");
        context.setOffline(false);
        page.navigate(at + "bay?as=Arlo");
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText("Online, waiting to be sent: 1");
        assertThat(POSTED).isEmpty();
        page.navigate(at + "bay");
        PlaywrightAssertions.assertThat(page.locator("[data-network]")).hasText(Pattern.compile("Online, sent .*"));
        assertThat(POSTED).hasSize(1);
    }

    private static String field(String body, String name) {
        for (String pair : body.split("&")) {
            if (pair.startsWith(name + "=")) {
                return URLDecoder.decode(pair.substring(name.length() + 1), UTF_8);
            }
        }
        return "";
    }

    private static void answer(HttpExchange exchange) throws IOException {
        String path = exchange.getRequestURI().getPath().substring(1);
        ASKED.add(exchange.getRequestMethod() + " " + path);
        exchange.getResponseHeaders().set("Content-Security-Policy", POLICY);
        if (exchange.getRequestMethod().equals("POST")) {
            String body = new String(exchange.getRequestBody().readAllBytes(), UTF_8);
            if (field(body, "flow").equals("bad")) {
                send(exchange, 422, "text/html; charset=utf-8", Files.readAllBytes(PAGES.resolve("form.html")));
                return;
            }
            POSTED.add(body);
            exchange.getResponseHeaders().set("Location", path.equals("readings") ? "/cars" : "/ticket");
            exchange.sendResponseHeaders(303, -1);
            exchange.close();
            return;
        }
        Path file = PAGES.resolve(path.contains(".") ? path : path + ".html");
        if (!Files.isRegularFile(file)) {
            send(exchange, 404, "text/html; charset=utf-8", Files.readAllBytes(PAGES.resolve("absent.html")));
            return;
        }
        String kind = Map.of("css", "text/css", "js", "text/javascript", "svg", "image/svg+xml", "woff2", "font/woff2")
                .getOrDefault(file.toString().replaceAll(".*\\.", ""), "text/html; charset=utf-8");
        byte[] bytes = Files.readAllBytes(file);
        if (kind.startsWith("text/html")) {
            String html = new String(bytes, UTF_8)
                    .replace(
                            "name=\"submission\"",
                            "name=\"_csrf\" value=\"fresh\"/><input type=\"hidden\" name=\"submission\"");
            String query = exchange.getRequestURI().getQuery();
            bytes = (query != null && query.startsWith("as=")
                            ? html.replace("data-user=\"Tamsin\"", "data-user=\"" + query.substring(3) + "\"")
                            : html)
                    .getBytes(UTF_8);
        }
        send(exchange, 200, kind, bytes);
    }

    private static void send(HttpExchange exchange, int status, String kind, byte[] bytes) throws IOException {
        exchange.getResponseHeaders().set("Content-Type", kind);
        boolean head = exchange.getRequestMethod().equals("HEAD");
        exchange.sendResponseHeaders(status, head ? -1 : bytes.length);
        if (!head) {
            exchange.getResponseBody().write(bytes);
        }
        exchange.close();
    }
}
