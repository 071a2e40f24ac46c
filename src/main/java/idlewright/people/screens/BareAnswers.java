package idlewright.people.screens;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Objects;
import org.apache.catalina.connector.Request;
import org.apache.catalina.connector.Response;
import org.apache.catalina.core.StandardHost;
import org.apache.catalina.valves.ErrorReportValve;
import org.springframework.boot.tomcat.servlet.TomcatServletWebServerFactory;
import org.springframework.boot.web.server.WebServerFactoryCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.security.web.firewall.RequestRejectedHandler;

/**
 * What is answered to a request so malformed that no page of the house ever sees it: a bad escape, a letter that no address
 * may hold, a request line that is none. The house's own words and headers, and nothing about what it runs on.
 */
@Configuration(proxyBeanMethods = false)
class BareAnswers {

    @Bean
    WebServerFactoryCustomizer<TomcatServletWebServerFactory> ownWordsForWhatNoPageSees() {
        return factory -> factory.addContextCustomizers(context -> {
            var host = (StandardHost) context.getParent();
            // Named so too: else the server would put one of its own behind it.
            host.setErrorReportValveClass(OwnWords.class.getName());
            host.getPipeline().addValve(new OwnWords());
        });
    }

    /** Addresses that can be read but are refused, like one with a semicolon: the house's page answers, its headers with it. */
    @Bean
    RequestRejectedHandler refusedAddresses() {
        return (request, response, no) -> {
            Doors.barely(response::setHeader);
            response.sendError(HttpServletResponse.SC_BAD_REQUEST);
        };
    }

    /** Stands last, so it speaks first. */
    public static class OwnWords extends ErrorReportValve {

        private static final byte[] PAGE = page();

        @Override
        protected void report(Request request, Response response, Throwable error) {
            if (response.getStatus() < 400 || response.getContentWritten() > 0 || !response.setErrorReported()) {
                return;
            }
            try {
                Doors.barely(response::setHeader);
                boolean program = String.valueOf(request.getRequestURI()).startsWith("/api/");
                byte[] said = program
                        ? "{\"title\":\"The request was not understood\",\"status\":%d}"
                                .formatted(response.getStatus())
                                .getBytes(StandardCharsets.UTF_8)
                        : PAGE;
                response.setContentType(program ? "application/problem+json" : "text/html;charset=UTF-8");
                response.setContentLength(said.length);
                var out = response.getReporter() == null ? null : response.getOutputStream();
                if (out != null) {
                    out.write(said);
                    response.finishResponse();
                }
            } catch (IOException | IllegalStateException gone) {
                // Nobody listens any more.
            }
        }

        private static byte[] page() {
            try (InputStream page = Objects.requireNonNull(BareAnswers.class.getResourceAsStream("/frame/bare.html"))) {
                return page.readAllBytes();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }
}
