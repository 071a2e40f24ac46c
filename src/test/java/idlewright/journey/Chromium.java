package idlewright.journey;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;

/** The browser of these tests: the one that is installed, for nothing is downloaded. */
final class Chromium implements AutoCloseable {

    private final Playwright playwright;
    private final Browser browser;

    private Chromium(Path program) {
        playwright = Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setExecutablePath(program)
                        .setArgs(List.of(
                                "--no-sandbox",
                                "--disable-gpu",
                                "--disable-background-networking",
                                "--disable-component-update",
                                "--disable-sync")));
    }

    /** Starts it, or skips the test and says why. */
    static Chromium start() {
        Optional<Path> program = Stream.of(
                        System.getProperty("chromium"),
                        System.getenv("CHROMIUM"),
                        "/usr/bin/chromium",
                        "/usr/bin/chromium-browser",
                        "/usr/bin/google-chrome")
                .filter(name -> name != null && !name.isBlank())
                .map(Path::of)
                .filter(Files::isExecutable)
                .findFirst();
        if (program.isEmpty()) {
            String why = "Skipped: no Chromium at /usr/bin/chromium; name one by -Dchromium=/path/to/it";
            System.out.println(why);
            Assumptions.abort(why);
        }
        return new Chromium(program.get());
    }

    /** A screen of the service writer: a desk with keyboard and mouse. */
    Browser.NewContextOptions desk() {
        return new Browser.NewContextOptions().setViewportSize(1280, 800).setColorScheme(ColorScheme.LIGHT);
    }

    /** A screen in the bay: small and touched. */
    Browser.NewContextOptions bay() {
        return new Browser.NewContextOptions()
                .setViewportSize(1024, 600)
                .setHasTouch(true)
                .setColorScheme(ColorScheme.LIGHT);
    }

    /** The owner's screen. */
    Browser.NewContextOptions office() {
        return new Browser.NewContextOptions().setViewportSize(1440, 900).setColorScheme(ColorScheme.LIGHT);
    }

    Desk sits(String who, Browser.NewContextOptions at, Desk.Hand hand, int port) {
        return new Desk(who, browser.newContext(at.setBaseURL("http://localhost:" + port)), hand);
    }

    @Override
    public void close() {
        browser.close();
        playwright.close();
    }
}
