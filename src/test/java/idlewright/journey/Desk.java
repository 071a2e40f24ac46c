package idlewright.journey;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Response;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.FilePayload;
import com.microsoft.playwright.options.ViewportSize;
import com.microsoft.playwright.options.WaitForSelectorState;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;

/**
 * Somebody at a screen: finds fields by their label and buttons by their words, as a person does, and reads what is written.
 * What the browser complains about is an error, except an answer of refusal, which is wanted.
 */
final class Desk implements AutoCloseable {

    /** How this person reaches things. */
    enum Hand {
        KEYBOARD,
        MOUSE,
        FINGER
    }

    /** Pictures of a run for the handbook go into the docs, others with the build. */
    private static final Path PICTURES =
            Boolean.getBoolean("pictures") ? Path.of("docs", "pictures") : Path.of("target", "pictures");

    private static final Pattern REFUSAL = Pattern.compile("Failed to load resource.* status of (404|409|422) .*");

    private final String who;
    private final BrowserContext context;
    private final List<String> complaints = new ArrayList<>();
    private final ViewportSize wide;
    private Hand hand;
    private int keys;
    final Page page;

    Desk(String who, BrowserContext context, Hand hand) {
        this.who = who;
        this.context = context;
        this.hand = hand;
        context.setDefaultTimeout(20_000);
        page = context.newPage();
        wide = page.viewportSize();
        page.onConsoleMessage(message -> {
            if (message.type().equals("error")
                    && !REFUSAL.matcher(message.text()).matches()) {
                complaints.add(page.url() + ": " + message.text());
            }
        });
        page.onPageError(error -> complaints.add(page.url() + ": " + error));
        page.onResponse(response -> {
            if (response.status() >= 500) {
                complaints.add(response.status() + " " + response.url());
            }
        });
    }

    /** From now on by other means. */
    Desk by(Hand other) {
        hand = other;
        return this;
    }

    /** Keys pressed so far on the way from field to field and in them. */
    int keys() {
        return keys;
    }

    Desk opens(String path) {
        Response answer = page.navigate(path);
        assertThat(answer.status()).as(who + " opens " + path).isLessThan(400);
        return this;
    }

    /** Opens it and gets this answer. */
    Desk opens(String path, int status) {
        assertThat(page.navigate(path).status()).as(who + " opens " + path).isEqualTo(status);
        return this;
    }

    Desk signsIn(String name, String password) {
        return opens("/sign-in")
                .types("Sign-in name", name)
                .types("Password", password)
                .presses("Sign in");
    }

    // reading

    /** Everything of this stands on the page, in any order. */
    Desk reads(String... words) {
        for (String each : words) {
            assertThat(main()).containsText(each);
        }
        return this;
    }

    Desk readsNot(String... words) {
        for (String each : words) {
            assertThat(main()).not().containsText(each);
        }
        return this;
    }

    Desk readsHeading(String words) {
        assertThat(page.locator("h1")).containsText(words);
        return this;
    }

    /** The page says no with these words, on top and with the focus there, and its title says so first. */
    Desk isRefused(String... words) {
        Locator problems = page.locator("[data-problems]");
        for (String each : words) {
            assertThat(problems).containsText(each);
        }
        assertThat(problems).isFocused();
        assertThat(page).hasTitle(Pattern.compile("Error: .*"));
        return this;
    }

    String text() {
        return main().innerText();
    }

    Locator main() {
        return page.locator("#main");
    }

    /** The first group of an address such as /tickets/(\d+) this page stands at. */
    String at(String address) {
        var found = Pattern.compile(address).matcher(page.url());
        assertThat(found.find()).as(page.url() + " is at " + address).isTrue();
        return found.groupCount() == 0 ? found.group() : found.group(1);
    }

    // doing

    Desk types(String label, String words) {
        Locator field = page.getByLabel(label, new Page.GetByLabelOptions().setExact(true))
                .or(page.getByLabel(label + " (optional)", new Page.GetByLabelOptions().setExact(true)))
                .first();
        return into(field, words);
    }

    Desk into(Locator field, String words) {
        if (hand == Hand.KEYBOARD) {
            reach(field);
            press("Control+a");
            for (String line : words.split("(?<=\n)")) {
                page.keyboard().type(line);
            }
            keys += words.length();
        } else {
            reach(field);
            field.fill(words);
        }
        return this;
    }

    /** Chooses from a list. */
    Desk picks(String label, String option) {
        Locator list = page.getByLabel(label, new Page.GetByLabelOptions().setExact(true))
                .or(page.getByLabel(label + " (optional)", new Page.GetByLabelOptions().setExact(true)))
                .first();
        if (hand == Hand.KEYBOARD) {
            reach(list);
            page.keyboard().type(option);
            keys += option.length();
        } else {
            list.selectOption(new com.microsoft.playwright.options.SelectOption().setLabel(option));
        }
        assertThat(list.locator("option:checked")).hasText(option);
        return this;
    }

    /** Answers a question that offers its answers, by the question and the answer. */
    Desk chooses(String question, String answer) {
        Locator option = group(question)
                .locator("label.option")
                .filter(new Locator.FilterOptions().setHasText(Pattern.compile("^\\s*" + literally(answer))))
                .first()
                .locator("input");
        if (hand != Hand.KEYBOARD) {
            option.check();
        } else if ("radio".equals(option.getAttribute("type"))) {
            String name = option.getAttribute("name");
            tabUntil("e => e.type === 'radio' && e.name === '" + name + "'", question);
            for (int i = 0; i < 30 && !option.isChecked(); i++) {
                press(i == 0 ? "Space" : "ArrowDown");
            }
        } else if (!option.isChecked()) {
            reach(option);
            press("Space");
        }
        assertThat(option).isChecked();
        return this;
    }

    Locator group(String question) {
        return page.locator("fieldset")
                .filter(new Locator.FilterOptions()
                        .setHas(page.locator(
                                "legend",
                                new Page.LocatorOptions()
                                        .setHasText(Pattern.compile(
                                                "^\\s*" + literally(question) + "( \\(optional\\))?\\s*$")))))
                .last();
    }

    /** Chooses a file that lies here. */
    Desk gives(String label, String name, String type, byte[] bytes) {
        page.getByLabel(label, new Page.GetByLabelOptions().setExact(true))
                .setInputFiles(new FilePayload(name, type, bytes));
        return this;
    }

    Desk presses(String button) {
        return press(page.getByRole(
                AriaRole.BUTTON, new Page.GetByRoleOptions().setName(button).setExact(true)));
    }

    Desk follows(String link) {
        return press(page.getByRole(
                AriaRole.LINK, new Page.GetByRoleOptions().setName(link).setExact(true)));
    }

    /** Follows the link whose words begin so. */
    Desk followsAbout(String link) {
        return press(
                page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName(Pattern.compile(literally(link)))));
    }

    /** Presses what may stand several times; the first is meant. Waits for the answer where it leads to one. */
    Desk press(Locator what) {
        Locator one = what.first();
        boolean leads = (Boolean) one.evaluate("e => e.matches('a[href]') || e.matches('button:not([type=button])')");
        // The bay takes a tap on a question that has just come for the second of a double tap; nobody reads that
        // quickly.
        page.locator("[data-just-drawn]").waitFor(new Locator.WaitForOptions().setState(WaitForSelectorState.DETACHED));
        if (leads) {
            page.evaluate("document.getElementById('main').firstElementChild.setAttribute('data-before', '')");
        }
        if (hand == Hand.KEYBOARD) {
            reach(one);
            press("Enter");
        } else if (hand == Hand.FINGER) {
            one.tap();
        } else {
            one.click();
        }
        if (leads) {
            page.locator("#main > [data-before]")
                    .waitFor(new Locator.WaitForOptions().setState(WaitForSelectorState.DETACHED));
            page.waitForLoadState();
        }
        return this;
    }

    Desk opensUp(String summary) {
        Locator line = page.locator("summary")
                .filter(new Locator.FilterOptions().setHasText(summary))
                .first();
        if (!(Boolean) line.evaluate("s => s.parentElement.open")) {
            press(line);
        }
        return this;
    }

    private void reach(Locator what) {
        if (hand == Hand.KEYBOARD) {
            what.evaluate("e => e.setAttribute('data-wanted', '')");
            tabUntil("e => e.hasAttribute('data-wanted')", what.toString());
            what.evaluate("e => e.removeAttribute('data-wanted')");
        } else if (hand == Hand.FINGER) {
            what.tap();
        } else {
            what.click();
        }
    }

    /** Tabs on; what has the focus has to be in sight all the way. */
    private void tabUntil(String wanted, String what) {
        for (int i = 0; i < 150; i++) {
            Object here = page.evaluate("() => { const e = document.activeElement; return e && (" + wanted + ")(e) }");
            if (Boolean.TRUE.equals(here)) {
                return;
            }
            press("Tab");
        }
        throw new AssertionError(who + " cannot reach by keyboard: " + what + " at " + page.url());
    }

    /** For a pattern the browser reads, which knows no \\Q and \\E. */
    static String literally(String words) {
        return words.replaceAll("[.*+?^${}()|\\[\\]\\\\/]", "\\\\$0");
    }

    private void press(String key) {
        page.keyboard().press(key);
        keys++;
    }

    // looking

    /** The screen as it is. */
    Desk picture(String name) {
        page.screenshot(new Page.ScreenshotOptions().setPath(PICTURES.resolve(name + ".png")));
        return this;
    }

    /** The page from its top down to what still tells something in a picture. */
    Desk picture(String name, int height) {
        int whole = (int) page.evaluate("document.documentElement.scrollHeight");
        page.screenshot(new Page.ScreenshotOptions()
                .setPath(PICTURES.resolve(name + ".png"))
                .setFullPage(true)
                .setClip(0, 0, wide.width, Math.min(height, whole)));
        return this;
    }

    /** The same page in the dark, then in the light again. */
    Desk pictureInTheDark(String name) {
        page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(ColorScheme.DARK));
        picture(name);
        page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(ColorScheme.LIGHT));
        return this;
    }

    /** The same page on a narrow screen, which it has to fit, then at the size it was. */
    Desk pictureNarrow(String name) {
        assertThat(sticksOutWhenNarrow()).as(page.url() + " at 320 px").isEmpty();
        page.setViewportSize(320, 800);
        picture(name);
        page.setViewportSize(wide.width, wide.height);
        return this;
    }

    /** What a screen of 320 px would have to be scrolled sideways for; wide tables may scroll in a box of their own. */
    @SuppressWarnings("unchecked")
    List<String> sticksOutWhenNarrow() {
        page.setViewportSize(320, 800);
        var out = (List<String>) page.evaluate("""
                () => { const root = document.documentElement;
                  if (root.scrollWidth <= 320) return [];
                  const boxed = e => { for (let p = e.parentElement; p && p !== document.body; p = p.parentElement)
                    if (getComputedStyle(p).overflowX !== 'visible') return true; return false; };
                  const wide = [...document.body.querySelectorAll('*')]
                    .filter(e => e.getBoundingClientRect().right > 320.5 && !boxed(e) && !e.closest('.aside'));
                  return [root.scrollWidth + ' px', ...wide.filter(e => !wide.some(c => c !== e && e.contains(c)))
                    .slice(0, 3).map(e => e.outerHTML.slice(0, 160))]; }""");
        page.setViewportSize(wide.width, wide.height);
        return out;
    }

    /** The server forgets this browser, as after a night; who it was stays known. */
    Desk endsTheSession() {
        context.clearCookies(new BrowserContext.ClearCookiesOptions().setName("idlewright"));
        return this;
    }

    /** Rules of accessibility that this page breaks, with the place. The pages have no frames, so one run sees all. */
    @SuppressWarnings("unchecked")
    List<String> breaks() {
        page.evaluate(AxeBuilder.getAxeScript());
        return (List<String>) page.evaluate("""
                async () => { const found = await axe.run(document, { preload: false, resultTypes: ['violations'],
                    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] });
                  return found.violations.flatMap(rule => rule.nodes.slice(0, 2).map(
                    node => rule.id + ', ' + rule.help + ': ' + node.html.slice(0, 200))); }""");
    }

    @Override
    public String toString() {
        return who;
    }

    /** What the browser says of a line that was cut on purpose is no complaint. */
    Desk forgets(String words) {
        complaints.removeIf(each -> each.contains(words));
        return this;
    }

    List<String> complaints() {
        return complaints;
    }

    @Override
    public void close() {
        if (Boolean.getBoolean("desk.last")) {
            System.out.println("Last of " + who + ": " + page.url() + "\n"
                    + page.locator("body").innerText());
        }
        context.close();
        assertThat(complaints)
                .as("what the browser of " + who + " complains about")
                .isEmpty();
    }
}
