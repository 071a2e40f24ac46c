package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.servlet.http.HttpServletRequest;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.util.unit.DataSize;

/** A form with a file larger than a request may be. */
class TooLargeTest {

    private final TooLarge filter = new TooLarge(
            DataSize.ofBytes(100), DataSize.ofBytes(300), java.util.regex.Pattern.compile("/measurements/\\d+/log"));
    private final MockHttpServletResponse response = new MockHttpServletResponse();

    private HttpServletRequest passed(String uri, int bytes) throws Exception {
        var request = new MockHttpServletRequest("POST", uri);
        request.setContentType("multipart/form-data; boundary=x");
        request.setContent(new byte[bytes]);
        request.setParameter("caption", "typed");
        var seen = new AtomicReference<HttpServletRequest>();
        filter.doFilter(request, response, (one, two) -> seen.set((HttpServletRequest) one));
        return seen.get();
    }

    @Test
    void isAskedForAgainWithoutWhatWasSent() throws Exception {
        var request = passed("/tickets/1/exhibits", 101);
        assertThat(request.getMethod()).isEqualTo("GET");
        assertThat(request.getContentType()).isNull();
        assertThat(request.getParameter("caption")).isNull();
        assertThat(request.getParameterMap()).isEmpty();
        assertThat(request.getAttribute(TooLarge.MARK)).isEqualTo("25 MB");
        assertThat(response.getStatus()).isEqualTo(413);
    }

    @Test
    void mayBeLargerWhereALogIsBroughtIn() throws Exception {
        assertThat(passed("/measurements/1/log", 300).getMethod()).isEqualTo("POST");
        assertThat(passed("/measurements/1/log", 301).getAttribute(TooLarge.MARK))
                .isEqualTo("150 MB");
    }

    @Test
    void passesAsItIsWhenItFitsOrComesFromAProgram() throws Exception {
        assertThat(passed("/tickets/1/exhibits", 100).getMethod()).isEqualTo("POST");
        assertThat(passed("/api/logs", 101).getMethod()).isEqualTo("POST");
        assertThat(response.getStatus()).isEqualTo(200);
    }
}
