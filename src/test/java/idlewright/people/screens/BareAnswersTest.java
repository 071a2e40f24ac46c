package idlewright.people.screens;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.WithDatabase;
import java.io.IOException;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.SpringBootTest.WebEnvironment;
import org.springframework.boot.test.web.server.LocalServerPort;

/** Over a real port and a bare socket: no client sends what these send. */
@SpringBootTest(webEnvironment = WebEnvironment.RANDOM_PORT, properties = "management.server.port=0")
@WithDatabase
@DisplayName("A request that cannot be read")
class BareAnswersTest {

    @LocalServerPort
    private int port;

    @ParameterizedTest(name = "{0}")
    @ValueSource(
            strings = {
                "GET /tickets%2F1042 HTTP/1.1",
                "GET /tickets/%zz HTTP/1.1",
                "GET /tickets/%2 HTTP/1.1",
                "GET /tickets/%00 HTTP/1.1",
                "GET /%c0%ae%c0%ae/ HTTP/1.1",
                "GET /tickets/%5c HTTP/1.1",
                "GET /tickets/{1} HTTP/1.1",
                "GET /tickets/a|b HTTP/1.1",
                "GET /../../etc HTTP/1.1",
                "GET /a//b;c=1 HTTP/1.1",
                "GET /counter;jsessionid=1 HTTP/1.1",
                "G@T / HTTP/1.1",
                "GET / HTTP/9.9",
                "GET"
            })
    void isAnsweredInTheHousesWordsWithItsHeaders(String line) throws IOException {
        String answer = send(line + "\r\nHost: localhost\r\nAccept: text/html\r\nConnection: close\r\n\r\n");
        String head =
                answer.substring(0, Math.max(0, answer.indexOf("\r\n\r\n"))).toLowerCase(Locale.ROOT);
        assertThat(head).startsWith("http/1.1 ").containsPattern("^http/1.1 (400|404|405|501|505)");
        assertThat(head)
                .contains(
                        "content-security-policy: default-src 'self'",
                        "x-content-type-options: nosniff",
                        "x-frame-options: deny")
                .contains("cross-origin-opener-policy: same-origin", "referrer-policy: same-origin", "cache-control:")
                .doesNotContain("server:");
        assertThat(answer)
                .contains("Idlewright", "<h1>")
                .doesNotContainIgnoringCase("tomcat", "apache", "exception", "java.");
    }

    @Test
    void mayHaveHeadersThatAreNoneOrTooMany() throws IOException {
        String bad = send("GET / HTTP/1.1\r\nHost: local host\r\nConnection: close\r\n\r\n");
        assertThat(bad).startsWith("HTTP/1.1 400").contains("That address cannot be read", "Content-Security-Policy");
        String many =
                send("GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nX: " + "y".repeat(20_000) + "\r\n\r\n");
        assertThat(many).startsWith("HTTP/1.1 4").doesNotContainIgnoringCase("tomcat");
    }

    @Test
    void ofAProgramIsAnsweredForPrograms() throws IOException {
        String answer = send("GET /api/tickets%2F1 HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        assertThat(answer).startsWith("HTTP/1.1 400").contains("application/problem+json", "not understood");
    }

    @Test
    void leadsToAPageWhoseLooksAreServed() throws IOException {
        for (String file :
                new String[] {"/css/tokens.css", "/css/page.css", "/css/bar.css", "/css/ground.css", "/icons/knot.svg"
                }) {
            assertThat(send("GET " + file + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"))
                    .startsWith("HTTP/1.1 200");
        }
    }

    private String send(String request) throws IOException {
        try (var socket = new Socket("127.0.0.1", port)) {
            socket.setSoTimeout(10_000);
            socket.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
            socket.getOutputStream().flush();
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
