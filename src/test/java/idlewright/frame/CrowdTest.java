package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.ground.WithDatabase;
import idlewright.people.People;
import idlewright.people.Role;
import java.util.ArrayList;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.test.web.servlet.request.MockMvcRequestBuilders;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("Who guesses at the pages behind a secret")
class CrowdTest {

    @Autowired
    MockMvcTester browser;

    @Autowired
    People people;

    /** Without anybody the shop has not begun, and every page leads to its first start. */
    @BeforeEach
    void hire() {
        people.hire(
                "Odile " + System.nanoTime(),
                "odile" + System.nanoTime(),
                "a quiet copper kettle",
                null,
                Set.of(Role.OWNER));
    }

    @ParameterizedTest(name = "{0} {1}")
    @CsvSource({
        "GET, /offers/, 203.0.113.81",
        "POST, /offers/, 203.0.113.82",
        "GET, /answers/, 203.0.113.83",
        "POST, /answers/, 203.0.113.84"
    })
    void isHeldToThirtyTriesWhileOthersAreNot(String method, String page, String address) {
        var statuses = new ArrayList<Integer>();
        for (int i = 0; i < 40; i++) {
            statuses.add(guess(method, page, address).getResponse().getStatus());
        }
        assertThat(statuses.subList(0, 30)).containsOnly(404);
        // One try comes back every twenty seconds.
        assertThat(statuses.subList(31, 40)).containsOnly(429);
        var held = guess(method, page, address);
        assertThat(held).bodyText().contains("Too many tries from here. Please wait a minute, then try again.");
        assertThat(Integer.parseInt(held.getResponse().getHeader("Retry-After")))
                .isBetween(1, 20);
        assertThat(guess(method, page, "198.51.100.9")).as("somebody else").hasStatus(404);
    }

    @Test
    void isCountedOverAllSuchPagesTogether() {
        for (int i = 0; i < 31; i++) {
            guess(i % 2 == 0 ? "GET" : "POST", i % 3 == 0 ? "/offers/" : "/answers/", "203.0.113.85");
        }
        assertThat(guess("GET", "/offers/", "203.0.113.85")).hasStatus(429);
        assertThat(guess("POST", "/answers/", "203.0.113.85")).hasStatus(429);
    }

    @Test
    void tellsAProgramInJson() {
        for (int i = 0; i < 31; i++) {
            guess("GET", "/offers/", "203.0.113.86");
        }
        var told = browser.get()
                .uri("/offers/" + "x".repeat(22))
                .accept("application/json")
                .with(request -> {
                    request.setRemoteAddr("203.0.113.86");
                    return request;
                })
                .exchange();
        assertThat(told).hasStatus(429);
        assertThat(told.getResponse().getContentType()).startsWith("application/problem+json");
        assertThat(told).bodyText().contains("Too many tries from here");
    }

    @Test
    void isHeldWithWrongKeysWhileNobodyWithoutOneIs() {
        var statuses = new ArrayList<Integer>();
        for (int i = 0; i < 40; i++) {
            statuses.add(key("Bearer wrong-" + i).getResponse().getStatus());
        }
        assertThat(statuses.subList(0, 30)).containsOnly(401);
        assertThat(statuses.subList(31, 40)).containsOnly(429);
        var held = key("Bearer wrong-again");
        assertThat(held.getResponse().getContentType()).startsWith("application/problem+json");
        assertThat(held.getResponse().getHeader("Retry-After")).isNotNull();
        assertThat(key(null)).hasStatus(401);
    }

    private MvcTestResult key(@Nullable String authorization) {
        var get = browser.get().uri("/api/invoices").with(request -> {
            request.setRemoteAddr("203.0.113.87");
            return request;
        });
        return (authorization == null ? get : get.header("Authorization", authorization)).exchange();
    }

    private MvcTestResult guess(String method, String page, String address) {
        String secret = UUID.randomUUID().toString().replace("-", "").substring(0, 22);
        return browser.perform(MockMvcRequestBuilders.request(HttpMethod.valueOf(method), page + secret)
                .param("submission", UUID.randomUUID().toString())
                .with(csrf())
                .with(request -> {
                    request.setRemoteAddr(address);
                    return request;
                }));
    }
}
