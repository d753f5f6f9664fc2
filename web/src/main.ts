import "./app/page.ts";
