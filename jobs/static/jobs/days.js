// A browser may show a day as 11/12: beside each day field it is said in words.
for (const field of document.querySelectorAll('input[type="date"]')) {
  const words = document.createElement("output");
  words.className = "help";
  words.htmlFor = field.id;
  const say = () => {
    const day = field.valueAsDate;
    words.textContent = day
      ? [
          day.toLocaleDateString("en", { weekday: "short", timeZone: "UTC" }),
          day.getUTCDate(),
          day.toLocaleDateString("en", { month: "short", timeZone: "UTC" }),
          day.getUTCFullYear(),
        ].join(" ")
      : "";
  };
  field.after(words);
  field.addEventListener("input", say);
  say();
}
